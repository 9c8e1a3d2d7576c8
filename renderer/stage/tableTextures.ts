import {
  DataTexture,
  DataUtils,
  FloatType,
  HalfFloatType,
  NearestFilter,
  RedFormat,
  RGBAFormat,
  type Texture,
  type TextureDataType,
} from 'three'
import type { Table } from '../../core/optics/coordinate.ts'

/** A table as a texture, bit for bit. The shader fetches two texels and goes straight between them, in full precision. */
export function tableTexture(table: Table): Texture {
  return texelsOf(table, table.data, FloatType, '32F')
}

/** A table rounded to 11 bits, for what is fetched so often that a graphics card has to wait for it. */
export function coarseTexture(table: Table): Texture {
  return texelsOf(table, Uint16Array.from(table.data, DataUtils.toHalfFloat), HalfFloatType, '16F')
}

function texelsOf(
  { width, height, channels }: Table,
  data: Float32Array | Uint16Array,
  type: TextureDataType,
  bits: '16F' | '32F',
): Texture {
  const format = channels === 4 ? RGBAFormat : RedFormat
  const texture = new DataTexture(data, width, height, format, type)
  texture.internalFormat = channels === 4 ? `RGBA${bits}` : `R${bits}`
  texture.minFilter = NearestFilter
  texture.magFilter = NearestFilter
  texture.generateMipmaps = false
  texture.unpackAlignment = 4
  texture.needsUpdate = true
  return texture
}
