import { JpegImage, setVerbosityLevel } from 'pdfjs-dist/legacy/image_decoders/pdf.image_decoders.mjs'
import { jpegSamples, yccToRgb } from './jpeg-samples.ts'

/** What a JPEG says before its pixels. */
export interface JpegHead {
  readonly width: number
  readonly height: number
  /** 1 grey, 3 RGB or YCbCr, 4 CMYK or YCCK. */
  readonly components: number
  readonly bits: number
  /** The transform that an Adobe segment names: 0 none, 1 YCbCr, 2 YCCK; null where there is no such segment. */
  readonly adobe: number | null
  /** Pixels an inch across and down, by the JFIF segment; null where it says none. */
  readonly density: readonly [number, number] | null
  /** The embedded profile, whole; null where there is none or a part of it is missing. */
  readonly profile: Uint8Array<ArrayBuffer> | null
  /** The TIFF structure of an Exif segment; null where there is none. */
  readonly exif: Uint8Array | null
}

/** Decoded samples, pixel by pixel. Ink is as the file has it: {@link JpegHead.adobe} files hold 255 for none. */
export interface JpegPicture {
  readonly width: number
  readonly height: number
  readonly components: number
  readonly data: Uint8ClampedArray<ArrayBuffer>
}

/**
 * Reads the segments in front of the pixels; nothing is decoded.
 * Throws Error with what is wrong. Source: ITU-T T.81, annex B; ITU-T T.871 (JFIF); ICC.1:2022, annex B.4.
 */
export function jpegHead(bytes: Uint8Array): JpegHead {
  if (bytes[0] !== 0xff || bytes[1] !== 0xd8) throw new Error('it does not begin as a JPEG does')
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const tagged = (at: number, mark: string) =>
    at + mark.length <= bytes.length && [...mark].every((one, i) => bytes[at + i] === one.charCodeAt(0))
  const parts = new Map<number, Uint8Array>()
  let partCount = 0
  let adobe: number | null = null
  let density: JpegHead['density'] = null
  let exif: Uint8Array | null = null
  for (let at = 2; at + 4 <= bytes.length; ) {
    if (bytes[at] !== 0xff) throw new Error(`byte ${at} should begin a segment`)
    const marker = bytes[at + 1]!
    // Fill bytes, and markers without a length.
    if (marker === 0xff || marker === 0x01 || (marker >= 0xd0 && marker <= 0xd7)) {
      at += marker === 0xff ? 1 : 2
      continue
    }
    const length = view.getUint16(at + 2)
    const end = at + 2 + length
    if (length < 2 || end > bytes.length) throw new Error(`its segment at byte ${at} is cut off`)
    if (marker === 0xe0 && tagged(at + 4, 'JFIF\0') && length >= 14) {
      const unit = bytes[at + 11]!
      const perInch = unit === 1 ? 1 : unit === 2 ? 2.54 : 0
      const [x, y] = [view.getUint16(at + 12) * perInch, view.getUint16(at + 14) * perInch]
      if (x > 0 && y > 0) density = [x, y]
    } else if (marker === 0xee && tagged(at + 4, 'Adobe') && length >= 14) adobe = bytes[at + 15]!
    else if (marker === 0xe1 && tagged(at + 4, 'Exif\0\0')) exif ??= bytes.subarray(at + 10, end)
    else if (marker === 0xe2 && tagged(at + 4, 'ICC_PROFILE\0') && length >= 16) {
      parts.set(bytes[at + 16]!, bytes.subarray(at + 18, end))
      partCount = bytes[at + 17]!
    } else if (isFrame(marker)) {
      if (length < 8) throw new Error('its frame says too little')
      const [bits, height, width, components] = [
        bytes[at + 4]!,
        view.getUint16(at + 5),
        view.getUint16(at + 7),
        bytes[at + 9]!,
      ]
      if (![0xc0, 0xc1, 0xc2].includes(marker))
        throw new Error('it is packed without loss or by arithmetic coding, which is not read')
      if (width === 0 || height === 0) throw new Error('it has no pixels')
      if (![1, 3, 4].includes(components)) throw new Error(`it has ${components} colours, not 1, 3 or 4`)
      return { width, height, components, bits, adobe, density, profile: joined(parts, partCount), exif }
    } else if (marker === 0xda || marker === 0xd9) break
    at = end
  }
  throw new Error('it is cut off before its pixels')
}

/** SOF0 to SOF15 without the tables (DHT, JPG, DAC) that lie between them. */
const isFrame = (marker: number): boolean =>
  marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc

/** Bytes that the decoder takes for a picture: samples as they are packed and unpacked, and what comes out. */
export const jpegMemory = ({ width, height, components }: JpegHead): number => width * height * components * 4

/**
 * Decodes a JPEG. YCbCr becomes RGB and YCCK becomes CMYK; nothing else is changed.
 * @param transform  `auto`: as the file says; `none`: its components are the colours themselves; `ycc`: they are YCbCr or
 *                   YCCK, unless an Adobe segment says otherwise
 * Throws Error with what is wrong; who calls has looked at {@link jpegHead} and the memory it will take.
 */
export function decodeJpeg(bytes: Uint8Array, transform: 'auto' | 'none' | 'ycc' = 'auto'): JpegPicture {
  setVerbosityLevel(0)
  const head = jpegHead(bytes)
  const image = new JpegImage()
  image.parse(bytes)
  if (image.width !== head.width || image.numComponents !== head.components)
    throw new Error('it holds several pictures of different sizes')
  const { width, height, numComponents } = image
  const data = jpegSamples(width, height, image.components)
  if (isYcc(head, transform, image.components) && (numComponents === 3 || numComponents === 4))
    yccToRgb(data, numComponents)
  return { width, height, components: numComponents, data }
}

/** An Adobe segment goes before all else; components that are named R, G and B are that. */
function isYcc(
  { adobe, components }: JpegHead,
  transform: 'auto' | 'none' | 'ycc',
  parts: readonly { readonly index: number }[],
): boolean {
  if (adobe !== null) return adobe !== 0
  if (components !== 3) return transform === 'ycc'
  return transform !== 'none' && !parts.every(({ index }, i) => index === 'RGB'.charCodeAt(i))
}

function joined(parts: ReadonlyMap<number, Uint8Array>, count: number): Uint8Array<ArrayBuffer> | null {
  const all = Array.from({ length: count }, (_, i) => parts.get(i + 1))
  if (count === 0 || all.includes(undefined)) return null
  const out = new Uint8Array(all.reduce((sum, part) => sum + part!.length, 0))
  let at = 0
  for (const part of all) {
    out.set(part!, at)
    at += part!.length
  }
  return out
}
