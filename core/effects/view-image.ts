/**
 * What one view shows: a grey picture, row by row from the top. 0 is dark, the largest number of its kind all the light
 * that the view can send; the scale between is linear in light. Heights come the same way, 0 low.
 */
export interface ViewImage {
  readonly width: number
  readonly height: number
  readonly data: Uint8Array | Uint16Array
}

/** Views that an object or an animation may have. */
export const fewestViews = 2
export const mostViews = 16
/** Planes of layered depth beside the layer's own. */
export const mostPlanes = 7
