import { Box2, DataTexture, Vector2, type WebGLRenderer } from 'three'
import type { Upload } from './tilePool.ts'

/** Sends rectangles of a texture's data to the card; a texture that the card does not have yet goes there whole. */
export function partUpload(renderer: WebGLRenderer): Upload {
  return (texture, boxes) => {
    const { data, width, height } = texture.image
    // The card does not know this one, so what is copied comes from the data.
    const source = new DataTexture(data, width, height)
    for (const { left, top, right, bottom } of boxes)
      renderer.copyTextureToTexture(
        source,
        texture,
        new Box2(new Vector2(left, top), new Vector2(right, bottom)),
        new Vector2(left, top),
      )
  }
}
