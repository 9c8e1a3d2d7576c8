import { BadInput } from '../../base/finding.ts'
import { type PDFDict, PDFRawStream } from '../../base/pdf.ts'
import type { InkField, Matrix } from '../ink/mark.ts'
import { tellOnce } from './color-kit.ts'
import { openColorSpace } from './color-space.ts'
import { imageField } from './image-field.ts'
import { alphaOf, stencil } from './image-mask.ts'
import { paintSamples } from './image-paint.ts'
import type { Laid } from './image-sampler.ts'
import { ImageFault, readSamples, type Samples } from './image-samples.ts'
import { decodeOf, numberIn, sizeOf } from './image-words.ts'
import { booleanOf, look } from './objects.ts'
import type { ColorSpace, OpenImage, Reading } from './reading.ts'

/**
 * See {@link OpenImage}. Each image is decoded once a reading, and kept; one that is damaged or would not fit is told
 * with its place, and paints nothing. What the data of an image lack is not painted.
 */
export const openImage: OpenImage = async (reading, image, matrix, resources, paint) => {
  const stream = reading.context.lookup(image)
  try {
    if (!(stream instanceof PDFRawStream)) throw new ImageFault('has no data')
    const { color, alpha, soft, inks } = await loaded(
      reading,
      stream,
      resources,
      placeOf(stream.dict, matrix),
    )
    if (inks === null) return imageField(paint.inks, null, paint.values, alpha, matrix)
    const field = imageField(inks, color, [], alpha, matrix)
    return soft ? { ...field, soft } : field
  } catch (error) {
    const problem = problemOf(error)
    if (problem === null) throw error
    const where = placeOf(stream instanceof PDFRawStream ? stream.dict : undefined, matrix)
    const finding = {
      severity: 'error',
      code: 'pdf-image',
      where,
      message: `The image ${problem}; it is left out.`,
      fix: 'Place the image anew and save the file again',
    } as const
    tellOnce(reading, finding)
    tellOnce(reading, finding, reading.inexact)
    return nothing
  }
}

const nothing: InkField = {
  inks: [],
  row: (_x, _y, _step, count, _out, shape) => {
    shape.fill(0, 0, count)
  },
}

function problemOf(error: unknown): string | null {
  if (error instanceof ImageFault) return error.message
  if (error instanceof BadInput) return `cannot be read (${error.problem})`
  if (error instanceof RangeError) return 'takes more memory than there is'
  return null
}

function placeOf(dict: PDFDict | undefined, [a, b, c, d, e, f]: Matrix): string {
  const [width, height] = [numberIn(dict, 'Width', 'W'), numberIn(dict, 'Height', 'H')]
  const [x, y] = [e + Math.min(0, a, c, a + c), f + Math.min(0, b, d, b + d)]
  return `image of ${width ?? '?'} × ${height ?? '?'} px at ${x.toFixed(1)}, ${y.toFixed(1)} mm`
}

interface Loaded {
  /** Null: a stencil, which takes the paint it is given. */
  readonly inks: readonly number[] | null
  readonly color: Laid | null
  readonly alpha: Laid | null
  /** `alpha` is opacity, no shape. */
  readonly soft: boolean
}

/** Bytes of all images of a page together. */
const mostBytesKept = 2 ** 31
const kept = new WeakMap<Reading, { bytes: number; readonly images: Map<PDFRawStream, Promise<Loaded>> }>()

function loaded(
  reading: Reading,
  stream: PDFRawStream,
  resources: PDFDict | null,
  where: string,
): Promise<Loaded> {
  const shelf = kept.get(reading) ?? { bytes: 0, images: new Map<PDFRawStream, Promise<Loaded>>() }
  kept.set(reading, shelf)
  const known = shelf.images.get(stream)
  if (known !== undefined) return known
  const made = load(reading, stream, resources, where).then(image => {
    for (const laid of [image.color, image.alpha]) shelf.bytes += laid?.painted.samples.data.length ?? 0
    if (shelf.bytes > mostBytesKept) throw new ImageFault('is one too many: all together fill the memory')
    return image
  })
  shelf.images.set(stream, made)
  return made
}

async function load(
  reading: Reading,
  stream: PDFRawStream,
  resources: PDFDict | null,
  where: string,
): Promise<Loaded> {
  const { dict } = stream
  const size = sizeOf(dict)
  const smooth = (booleanOf(dict, 'Interpolate') ?? booleanOf(dict, 'I')) === true
  if ((booleanOf(dict, 'ImageMask') ?? booleanOf(dict, 'IM')) === true) {
    const alpha = await stencil(reading, stream, where)
    return { inks: null, color: null, alpha: { ...alpha, smooth }, soft: false }
  }
  const named = look(dict, 'ColorSpace') ?? look(dict, 'CS')
  const space = named === undefined ? null : openColorSpace(reading, named, resources)
  if (space?.family === 'Pattern')
    throw new ImageFault('has the colours of a pattern, which no image can have')
  const bits = numberIn(dict, 'BitsPerComponent', 'BPC') ?? 8
  if (![1, 2, 4, 8, 16].includes(bits)) throw new ImageFault(`has ${bits} bits a sample`)
  const samples = await readSamples(
    reading,
    stream,
    { ...size, components: space?.components ?? null, bits, indexed: space?.family === 'Indexed' },
    where,
  )
  const known = space ?? spaceOfCount(reading, samples.channels, resources)
  const spare = samples.channels - known.components
  // A picture of JPEG 2000 may bring its own opacity behind its colours.
  if (spare < 0 || spare > 1 || (spare === 1 && samples.channels === 1))
    throw new ImageFault(`has ${samples.channels} components, where its colour space has ${known.components}`)
  const decode = decodeOf(dict, known, bits)
  const height = ownHeight(samples, size)
  if (samples.rows < height) tellCut(reading, samples, height, where)
  const masked = await alphaOf(reading, dict, samples, {
    bits,
    height,
    spare: spare === 1,
    decode,
    where,
    components: known.components,
  })
  return {
    inks: known.inks,
    color: { painted: paintSamples(reading, masked.samples, known, decode), height, smooth },
    alpha: masked.alpha,
    soft: masked.soft,
  }
}

/** Rows of a picture that says its own size; else as its dictionary says. */
const ownHeight = (samples: Samples, size: { readonly width: number; readonly height: number }): number =>
  samples.width === size.width ? Math.max(samples.rows, size.height) : samples.rows

function spaceOfCount(reading: Reading, channels: number, resources: PDFDict | null): ColorSpace {
  const name = channels >= 4 ? 'DeviceCMYK' : channels === 3 ? 'DeviceRGB' : 'DeviceGray'
  return openColorSpace(reading, reading.context.obj(name), resources)
}

function tellCut(reading: Reading, samples: Samples, height: number, where: string): void {
  const finding = {
    severity: 'warning',
    code: 'pdf-image-cut',
    where,
    message: `The data of the image end after ${samples.rows} of its ${height} rows; the others are not painted.`,
    fix: 'Place the image anew and save the file again',
  } as const
  tellOnce(reading, finding)
  tellOnce(reading, finding, reading.inexact)
}
