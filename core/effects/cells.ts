import { cellVariance } from '../optics/blur.ts'
import { defaultBoard } from '../optics/scene.ts'
import type { EffectControl } from './effect.ts'
import type { ParameterReader } from './parameters.ts'

/** Pitches that cells choose from, evenly in lines a millimetre. */
export const chosenPitches: readonly EffectControl[] = [
  { key: 'finestNm', label: 'Finest pitch', unit: 'nm', min: 400, max: 5000, step: 10 },
  { key: 'widestNm', label: 'Widest pitch', unit: 'nm', min: 400, max: 5000, step: 10 },
]

/** Both pitches; refuses ones in the wrong order or out of the model. */
export function readPitches(reader: ParameterReader): readonly [finest: number, widest: number] {
  const { depth } = reader.relief()
  const [finest, widest] = chosenPitches.map(({ key }) => reader.pitch(key, reader.get(key), depth, 0)) as [
    number,
    number,
  ]
  if (finest > widest)
    reader.refuse(
      'finestNm',
      `is wider than the widest pitch: ${finest} and ${widest} nm`,
      'Change one of them.',
    )
  return [finest, widest]
}

/** The pitch a part 0..1 of the way from the finest to the widest, even in lines a millimetre, nm. */
export function pitchBetween([finest, widest]: readonly [number, number], part: number): number {
  return 1 / ((1 - part) / finest + part / widest)
}

/** Variance of the direction that the assumed board's own cells bring, at their design wavelength. */
const [boardVariance] = cellVariance(defaultBoard)
/** Side of the assumed board's cells, mm. */
const boardCell = defaultBoard.cell[0] / 1000

/**
 * Deviation of a grating vector over its length, for cells smaller than those that every board has: a patch of side p
 * spreads each order by its own diffraction, whose variance goes with 1/p². What the board brings is left out.
 * @param cellMm side of a cell
 * @param pitch  nm
 */
export function cellSpread(cellMm: number, pitch: number): number {
  if (cellMm >= boardCell) return 0
  const own = boardVariance * (boardCell / cellMm) ** 2
  return (Math.sqrt(own - boardVariance) * pitch) / cellWavelength
}

/** nm; the wavelength at which the optics takes a cell's diffraction */
const cellWavelength = 550
