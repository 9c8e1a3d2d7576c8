import { PDFArray, type PDFDict, PDFRawStream } from '../../base/pdf.ts'
import { clip01, tellOnce } from './color-kit.ts'
import type { Laid } from './image-sampler.ts'
import { ImageFault, readSamples, type Samples } from './image-samples.ts'
import { maskDecodeOf, numberIn, sizeOf } from './image-words.ts'
import { asNumbers, booleanOf, look, numberOf, numbersOf, streamOf } from './objects.ts'
import type { Reading } from './reading.ts'

// What of an image is painted. Source: ISO 32000-2, 8.9.6 and 11.6.5.2.

/** A picture of one bit whose zeros are painted. Throws {@link ImageFault} and what its stream's reader throws. */
export async function stencil(reading: Reading, stream: PDFRawStream, where: string): Promise<Laid> {
  const size = sizeOf(stream.dict)
  const samples = await readSamples(
    reading,
    stream,
    { ...size, components: 1, bits: 1, indexed: false },
    where,
  )
  if (samples.channels !== 1 || samples.largest !== 1)
    throw new ImageFault('is a stencil, but has more than one bit a pixel')
  const [zero] = maskDecodeOf(stream.dict)
  return laid(samples, size.height, code => ((code === 0) === zero < 0.5 ? 1 : 0), stream.dict)
}

export interface MaskedWords {
  readonly bits: number
  readonly height: number
  readonly components: number
  /** There is one channel more than the colour space has components. */
  readonly spare: boolean
  readonly decode: readonly number[]
  readonly where: string
}

export interface Masked {
  readonly samples: Samples
  readonly alpha: Laid | null
  /** True: it is opacity; false: it is shape, an image cut out. */
  readonly soft: boolean
}

/** The opacity that an image brings, and its samples as they are without a backdrop that was mixed in (Matte). */
export async function alphaOf(
  reading: Reading,
  dict: PDFDict,
  samples: Samples,
  words: MaskedWords,
): Promise<Masked> {
  const soft = streamOf(dict, 'SMask')
  if (soft !== undefined) {
    const alpha = await softMask(reading, soft, words.where)
    const matte = numbersOf(soft.dict, 'Matte')
    if (matte === undefined || matte.length < words.components) return { samples, alpha, soft: true }
    const same = alpha.painted.samples.width === samples.width && alpha.height === words.height
    if (!same) tellMatte(reading, words.where)
    return { samples: same ? withoutMatte(samples, alpha, matte, words) : samples, alpha, soft: true }
  }
  if (words.spare) {
    const inside = numberOf(dict, 'SMaskInData') ?? 0
    const table = Float32Array.from({ length: 256 }, (_, code) => code / 255)
    const part = { channel: samples.channels - 1, table }
    return {
      samples,
      soft: true,
      alpha:
        inside === 0 ? null : { painted: { samples, parts: [part] }, height: words.height, smooth: false },
    }
  }
  const mask = look(dict, 'Mask')
  if (mask instanceof PDFRawStream)
    return { samples, alpha: await stencil(reading, mask, words.where), soft: false }
  const key = mask instanceof PDFArray ? asNumbers(mask) : undefined
  if (key === undefined || key.length < 2 * words.components) return { samples, alpha: null, soft: false }
  return { samples, alpha: keyed(samples, key, words), soft: false }
}

/** Source: ISO 32000-2, 11.6.5.2: with Matte, both are of one size. */
function tellMatte(reading: Reading, where: string): void {
  const finding = {
    severity: 'warning',
    code: 'pdf-matte-size',
    where,
    message:
      'Its colours were mixed with one colour (Matte) where its mask fades, and the mask is of another size: that cannot be undone, and edges keep some of it.',
    fix: 'Place the image anew, with its mask at the same resolution',
  } as const
  tellOnce(reading, finding)
  tellOnce(reading, finding, reading.inexact)
}

async function softMask(reading: Reading, stream: PDFRawStream, where: string): Promise<Laid> {
  const size = sizeOf(stream.dict)
  const bits = numberIn(stream.dict, 'BitsPerComponent', 'BPC') ?? 8
  const samples = await readSamples(reading, stream, { ...size, components: 1, bits, indexed: false }, where)
  if (samples.channels !== 1) throw new ImageFault('has a soft mask of more than one component')
  const [low, high] = maskDecodeOf(stream.dict)
  const height = samples.width === size.width ? Math.max(samples.rows, size.height) : samples.rows
  return laid(samples, height, code => clip01(low + (code / samples.largest) * (high - low)), stream.dict)
}

function laid(samples: Samples, height: number, of: (code: number) => number, dict: PDFDict): Laid {
  const table = Float32Array.from({ length: 256 }, (_, code) => of(Math.min(code, samples.largest)))
  return {
    painted: { samples, parts: [{ channel: 0, table }] },
    height,
    smooth: (booleanOf(dict, 'Interpolate') ?? booleanOf(dict, 'I')) === true,
  }
}

/** Pixels whose codes all lie in a range are left out. */
function keyed(samples: Samples, key: readonly number[], { bits, components, height }: MaskedWords): Laid {
  // Codes of 16 bits were taken to 8.
  const by = bits === 16 ? 257 : 1
  const low = (c: number) => Math.ceil(key[2 * c]! / by)
  const high = (c: number) => Math.floor(key[2 * c + 1]! / by)
  const inside = (code: number, c: number) => code >= low(c) && code <= high(c)
  if (components === 1 && samples.channels === 1) {
    const table = Float32Array.from({ length: 256 }, (_, code) => (inside(code, 0) ? 0 : 1))
    return { painted: { samples, parts: [{ channel: 0, table }] }, height, smooth: false }
  }
  const { channels, data } = samples
  const shown = new Uint8Array(Math.floor(data.length / channels))
  for (let i = 0; i < shown.length; i++)
    for (let c = 0; c < components; c++) if (!inside(data[i * channels + c]!, c)) shown[i] = 255
  const table = Float32Array.from({ length: 256 }, (_, code) => code / 255)
  return {
    painted: {
      samples: { ...samples, channels: 1, bits: 8, largest: 255, data: shown },
      parts: [{ channel: 0, table }],
    },
    height,
    smooth: false,
  }
}

/** Undoes c' = m + α (c − m), where colours were mixed with one colour beforehand. Source: ISO 32000-2, 11.6.5.2. */
function withoutMatte(samples: Samples, alpha: Laid, matte: readonly number[], words: MaskedWords): Samples {
  const { channels, data, largest, bits } = samples
  const shape = alpha.painted.samples
  // Both have a byte a sample, or there is nothing to undo.
  if (bits === 1 || shape.bits === 1) return samples
  const table = alpha.painted.parts[0]!.table
  const mixed = Array.from({ length: channels }, (_, c) => {
    const [low, high] = [words.decode[2 * c] ?? 0, words.decode[2 * c + 1] ?? 1]
    return high === low ? 0 : ((matte[c]! - low) / (high - low)) * largest
  })
  const out = new Uint8Array(data.length)
  for (let i = 0; i < data.length; i++) {
    const m = mixed[i % channels]!
    const share = table[shape.data[Math.floor(i / channels)] ?? 0]!
    const value = share > 0 ? m + (data[i]! - m) / share : data[i]!
    out[i] = Math.min(largest, Math.max(0, Math.round(value)))
  }
  return { ...samples, data: out }
}
