/**
 * Ids of the parts of a proof's page: what writes it and what runs in it both know them. The manifest and the planes are
 * inert script blocks; a plane's text is its bytes by `bytesToText`.
 */
export const pageParts = {
  manifest: 'proof-manifest',
  /** The picture that is there first, an `img`. */
  still: 'proof-still',
  /** The pictures drawn beforehand, an `img` each, in the order of the manifest's strip. */
  strip: 'proof-strip',
  /** Empty: the live view goes there. */
  live: 'proof-live',
  /** An inert block: the script of the live view, UTF-8 in a zlib stream (RFC 1950) by `bytesToText`. */
  viewer: 'proof-viewer',
} as const

/** @param at number of the plane in the manifest */
export const planePart = (at: number): string => `proof-plane-${at}`
