import { DataTexture, FloatType, NearestFilter, RedFormat, RGBAFormat, type Texture } from 'three'
import type { Table } from '../../core/optics/coordinate.ts'

/** A table as a texture, bit for bit. The shader fetches two texels and goes straight between them, in full precision. */
export function tableTexture(table: Table): Texture {
  const format = table.channels === 4 ? RGBAFormat : RedFormat
  const texture = new DataTexture(table.data, table.width, table.height, format, FloatType)
  texture.internalFormat = table.channels === 4 ? 'RGBA32F' : 'R32F'
  texture.minFilter = NearestFilter
  texture.magFilter = NearestFilter
  texture.generateMipmaps = false
  texture.unpackAlignment = 4
  texture.needsUpdate = true
  return texture
}
