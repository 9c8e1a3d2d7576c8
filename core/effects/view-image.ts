/**
 * What one view shows: a grey picture, row by row from the top, a byte a pixel. 0 is dark, 255 all the light that the
 * view can send; the scale between is linear in light.
 */
export interface ViewImage {
  readonly width: number
  readonly height: number
  readonly data: Uint8Array
}

/** Views that an object or an animation may have. */
export const fewestViews = 2
export const mostViews = 16
