import { BadInput } from '../../base/finding.ts'
import { PDFArray, PDFBool, type PDFDict, type PDFObject, PDFRawStream } from '../../base/pdf.ts'
import type { InkField, Matrix, Path } from '../ink/mark.ts'
import { pathStep } from '../ink/mark.ts'
import { at, inverse, times } from '../ink/matrix.ts'
import { openColorSpace } from './color-space.ts'
import { openFunction, type PdfFunction } from './function.ts'
import { arrayOf, asDict, items, look, numberOf, numbersOf } from './objects.ts'
import type { ColorSpace, OpenShading, Reading } from './reading.ts'
import { axialSource, type Extend, radialSource } from './shading-along.ts'
import { type PointSource, shadingField } from './shading-field.ts'
import { readMesh } from './shading-mesh.ts'
import { placesSource } from './shading-places.ts'
import { makeRamp, type Ramp } from './shading-ramp.ts'
import { trianglesSource } from './shading-triangles.ts'
import { streamData } from './stream.ts'

/**
 * See {@link OpenShading}: types 1 to 7. As a pattern a Background fills what the shading leaves; painted by itself it
 * has none. Throws BadInput `pdf-shading`. Source: ISO 32000-2, 8.7.4.
 */
export const openShading: OpenShading = (reading, object, matrix, asPattern, resources) => {
  const shading = reading.context.lookup(object)
  const dict = asDict(shading)
  const type = numberOf(dict, 'ShadingType')
  const where = `shading of type ${type ?? 'unknown'}`
  if (dict === undefined || type === undefined) throw refuse(reading, where, 'it is no shading')
  const named = look(dict, 'ColorSpace')
  if (named === undefined) throw refuse(reading, where, 'it has no colour space')
  const space = openColorSpace(reading, named, resources)
  if (space.family === 'Pattern') throw refuse(reading, where, 'its colours are those of a pattern')
  const back = inverse(matrix)
  const box = boxOf(dict, matrix)
  if (back === null) return { field: nothing(space.inks), box }
  const parts = { reading, shading, dict, type, where, space, matrix, back }
  const background = numbersOf(dict, 'Background')
  const ground = asPattern && background !== undefined ? space.tints(background) : null
  return { field: shadingField(sourceOf(parts), ground), box }
}

function refuse(reading: Reading, where: string, problem: string): BadInput {
  return new BadInput(
    'pdf-shading',
    reading.file,
    where,
    problem,
    'Save the file again, or give this object a colour of another kind',
  )
}

const nothing = (inks: readonly number[]): InkField => ({
  inks,
  row: (_x, _y, _step, count, _out, shape) => {
    shape.fill(0, 0, count)
  },
})

interface Parts {
  readonly reading: Reading
  readonly shading: unknown
  readonly dict: PDFDict
  readonly type: number
  readonly where: string
  readonly space: ColorSpace
  /** Space of the shading to page mm, and back. */
  readonly matrix: Matrix
  readonly back: Matrix
}

function sourceOf(parts: Parts): PointSource {
  const { dict, type, where, reading, space, back } = parts
  switch (type) {
    case 1: {
      const domain = numbersOf(dict, 'Domain') ?? [0, 1, 0, 1]
      const own = numbersOf(dict, 'Matrix') ?? [1, 0, 0, 1, 0, 0]
      const toDomain = own.length === 6 ? inverse(own as unknown as Matrix) : null
      if (domain.length !== 4 || toDomain === null)
        throw refuse(reading, where, 'its domain has no area on the page')
      const [x0, x1, y0, y1] = domain
      const color = functionOf(parts, 2)
      return placesSource(space, color, [x0!, x1!, y0!, y1!], times(back, toDomain))
    }
    case 2:
    case 3: {
      const coords = numbersOf(dict, 'Coords')
      if (coords === undefined || coords.length !== 2 * type)
        throw refuse(reading, where, `it has ${coords?.length ?? 'no'} coordinates instead of ${2 * type}`)
      const ends = items(arrayOf(dict, 'Extend'))
      const flags = booleansOf(ends)
      const ramp = rampOf(parts, domainOf(dict))
      const [a, b, c, d, e, f] = coords
      if (type === 2) return axialSource(ramp, [a!, b!, c!, d!], flags, back)
      if (c! < 0 || f! < 0) throw refuse(reading, where, 'it has a circle of less than no radius')
      return radialSource(ramp, [a!, b!, c!, d!, e!, f!], flags, back)
    }
    case 4:
    case 5:
    case 6:
    case 7:
      return meshSource(parts, type)
    default:
      throw refuse(reading, where, 'it is not of type 1 to 7')
  }
}

/** Some programs draw one gradient as hundreds of shadings, which share their colours. */
const ramps = new WeakMap<ColorSpace, WeakMap<PDFObject, Map<string, Ramp>>>()

function rampOf(parts: Parts, domain: readonly [number, number]): Ramp {
  const { dict, space } = parts
  const color = look(dict, 'Function')
  if (color === undefined) throw refuse(parts.reading, parts.where, 'it has no function')
  const ofSpace = ramps.get(space) ?? new WeakMap<PDFObject, Map<string, Ramp>>()
  ramps.set(space, ofSpace)
  const ofColor = ofSpace.get(color) ?? new Map<string, Ramp>()
  ofSpace.set(color, ofColor)
  const key = domain.join(' ')
  const known = ofColor.get(key) ?? makeRamp(space, domain, functionOf(parts, 1), isPower(color))
  ofColor.set(key, known)
  return known
}

const isPower = (color: PDFObject): boolean =>
  color instanceof PDFArray
    ? items(color).every(part => numberOf(asDict(part), 'FunctionType') === 2)
    : numberOf(asDict(color), 'FunctionType') === 2

function booleansOf(ends: ReturnType<typeof items>): Extend {
  const isTrue = (i: number) => {
    const end = ends[i]
    return end instanceof PDFBool && end.asBoolean()
  }
  return [isTrue(0), isTrue(1)]
}

function domainOf(dict: PDFDict): readonly [number, number] {
  const domain = numbersOf(dict, 'Domain')
  return domain !== undefined && domain.length >= 2 ? [domain[0]!, domain[1]!] : [0, 1]
}

function functionOf({ dict, reading, where, space }: Parts, inputs: number): PdfFunction {
  const color = openFunction(look(dict, 'Function'), reading.file, where)
  if (color.inputs !== inputs || color.outputs < space.components)
    throw refuse(
      reading,
      where,
      `its function makes ${color.outputs} numbers of ${color.inputs}, not ${space.components} of ${inputs}`,
    )
  return color
}

const mostMeshBytes = 2 ** 28

function meshSource(parts: Parts, type: 4 | 5 | 6 | 7): PointSource {
  const { shading, dict, reading, where, space, matrix } = parts
  if (!(shading instanceof PDFRawStream)) throw refuse(reading, where, 'it has no data')
  const byFunction = look(dict, 'Function') !== undefined
  const components = byFunction ? 1 : space.components
  const coordinateBits = numberOf(dict, 'BitsPerCoordinate') ?? 0
  const componentBits = numberOf(dict, 'BitsPerComponent') ?? 0
  const flagBits = type === 5 ? 0 : (numberOf(dict, 'BitsPerFlag') ?? 0)
  const perRow = type === 5 ? (numberOf(dict, 'VerticesPerRow') ?? 0) : 2
  const decode = numbersOf(dict, 'Decode') ?? []
  const goodBits =
    [1, 2, 4, 8, 12, 16, 24, 32].includes(coordinateBits) &&
    [1, 2, 4, 8, 12, 16].includes(componentBits) &&
    (type === 5 || [2, 4, 8].includes(flagBits))
  if (!goodBits || decode.length < 4 + 2 * components || !(perRow >= 2 && perRow < 1 << 20))
    throw refuse(reading, where, 'it does not say how its data are to be read')
  const { bytes } = streamData(reading.file, shading, mostMeshBytes, where)
  const words = { type, coordinateBits, componentBits, flagBits, perRow, components, decode }
  const read = readMesh(bytes, words, matrix)
  if (read === null) throw refuse(reading, where, 'it has more than two million triangles')
  if (!byFunction) return trianglesSource(read, space, null)
  // The number runs over what the data can hold.
  const [low, high] = [decode[4]!, decode[5]!]
  const along = read.colors.map(value => (high === low ? 0 : (value - low) / (high - low)))
  return trianglesSource({ ...read, colors: along }, space, rampOf(parts, [low, high]))
}

/** Where the shading may paint at all, on the page. */
function boxOf(dict: PDFDict, matrix: Matrix): Path | null {
  const box = numbersOf(dict, 'BBox')
  if (box === undefined || box.length !== 4) return null
  const [left, bottom, right, top] = box
  const { move, line, close } = pathStep
  return {
    steps: Uint8Array.of(move, line, line, line, close),
    points: Float64Array.from([
      ...at(matrix, left!, bottom!),
      ...at(matrix, right!, bottom!),
      ...at(matrix, right!, top!),
      ...at(matrix, left!, top!),
    ]),
  }
}
