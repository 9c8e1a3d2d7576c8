import {
  firstWavelength,
  illuminantSpectrum,
  illuminantWhite,
  type LightSource,
  lastWavelength,
  observer,
  sampleCount,
  spectrumToXyz,
} from '../color/spectrum.ts'
import type { XYZ } from '../color/xyz.ts'
import { cellVariance } from './blur.ts'
import { capGrid, freeFrom } from './cap.ts'
import type { Table } from './coordinate.ts'
import { fresnel } from './fresnel.ts'
import { type Groove, sinusoid } from './groove.ts'
import { hazeLevel, smoothPart } from './haze.ts'
import { type SpotInk, spotTransmittance } from './ink.ts'
import type { Stack } from './matter.ts'
import { metalAlbedo, metalReflectance } from './metal.ts'
import { facing, groovePhase, orderShare, vectorWeight } from './order-share.ts'
import { inksFor, type Printing, paperTint, plainPrinting, toneExponent } from './print.ts'
import { printTable, spotNodes } from './print-table.ts'
import type { Board } from './scene.ts'
import { boardAlbedo, evenlyEntering } from './stack.ts'
import {
  angleColumns,
  capRow,
  depthColumns,
  efficiencyRow,
  grooveRows,
  hazeWavelength,
  inkColumns,
  maxOpticalDepth,
  maxOrder,
  maxPhase,
  orderZeroRow,
  phaseColumns,
  primaryCount,
  slants,
  type Tables,
} from './tables.ts'
import { tintFilter } from './tint.ts'
import { wavinessVariances } from './varnish.ts'
import { scatterOf, straightThickness } from './white.ts'

export * from './tables.ts'

/** What the tables are made for: one illuminant, one board, the plates of one map. */
export interface Baking {
  readonly illuminant: LightSource
  readonly board: Board
  /** Groove shapes in the order of the map; a sinusoid when there is none. */
  readonly grooves?: readonly Groove[]
  /** Spot inks in the order of the map. */
  readonly spots?: readonly SpotInk[]
  /** How the inks print; left out: as `plainPrinting` says. */
  readonly printing?: Printing
  /** White plates from the foil up. */
  readonly whites?: readonly Omit<Stack['whites'][number], 'coverage'>[]
}

/** All tables, in float32, from the spectra in float64. Takes some 100 ms. */
export function bakeTables({
  illuminant,
  board,
  grooves = [],
  spots = [],
  whites = [],
  printing = plainPrinting,
}: Baking): Tables {
  const coat = board.lacquerIndex
  const shapes = grooves.length > 0 ? grooves : [sinusoid]
  const light = illuminantSpectrum(illuminant)
  const white = illuminantWhite(illuminant)
  const foil = light.map((power, i) => power * metalReflectance(firstWavelength + i, 1, coat))
  // Straight on; the fast picture goes on from there.
  const smooth = light.map((_, i) => smoothPart(board.microRoughness, firstWavelength + i, 2 * coat))
  const metal = foil.map((power, i) => power * smooth[i]!)
  const cosGrazing = Math.sqrt(1 - 1 / coat ** 2)
  const inks = inksFor(printing)
  const tint = tintFilter(board.tint, coat)
  // On their straight way the inks and the metal's own colour are one filter.
  const straight = tint === null ? inks.primaries : inks.primaries.map(t => t.map((v, i) => v * tint[i]!))
  const through = (power: number, i: number) => (tint === null ? power : power * tint[i]! ** slants[0])
  const scatter = whites.map(({ opacity, hits }) => scatterOf(opacity) * hits)
  const plates = spots.map(spot => spotTransmittance(spot, inks))
  return {
    cumulative: cumulative(metal),
    efficiency: efficiency(shapes, board),
    grooves: shapes.map(groove => ({ vector: vectorWeight(groove), freeFrom: freeFrom(groove) })),
    orderZero: orderZero(shapes, metal, straight),
    metalAngle: byAngle(board, cosGrazing),
    haze:
      board.microRoughness === 0
        ? null
        : {
            color: spectrumToXyz(foil.map((power, i) => through(power * (1 - smooth[i]!), i))),
            variance: board.hazeSpread ** 2,
            steepness: ((2 * Math.PI * board.microRoughness) / hazeWavelength) ** 2,
            wavelength: hazeWavelength,
          },
    inkPath: paths(straight),
    tinted: tint !== null,
    printTable: printTable(printing, illuminant),
    toneExponents: printing.toneGain.map(toneExponent),
    paperTint: paperTint(printing, 1 - fresnel(Math.SQRT1_2, coat)),
    spotPath: plates.length > 0 ? paths(plates) : null,
    spotColor: plates.length > 0 ? colors(plates.map(t => ratio(metal.map(through), t, slants[0]))) : null,
    spotNodes: spotNodes(light, inks.primaries, plates),
    white,
    foilAlbedo: meanByChannel(light, metalAlbedo(coat, tint)),
    boardAlbedo: meanByChannel(light, boardAlbedo(coat, inks)),
    whiteScatter: scatter,
    whiteStraight: scatter.map(solid => straightThickness(solid, board.forwardness)),
    whiteMottle: whites.map(white => white.mottle ?? 0),
    whiteEven: whites.map(white => white.screen === 'even'),
    evenlyEntering: evenlyEntering(coat),
    coat,
    cosGrazing,
    wavinessVariances: wavinessVariances(board),
    cellVariance: cellVariance(board),
    glossVariance: [board.glossRoughness ** 2, board.varnishRoughness ** 2],
  }
}

/** What goes by the angle in the coat, from the grazing ray in air to straight on: metal, then haze. */
function byAngle({ lacquerIndex: coat, hazeSpread }: Board, cosGrazing: number): Table {
  const level = hazeLevel(hazeSpread)
  const metal = (cos: number) => metalReflectance(555, cos, coat) / metalReflectance(555, 1, coat)
  const haze = (cos: number) => level(coat * Math.sqrt(Math.max(0, 1 - cos * cos)))
  const data = [metal, haze].flatMap(value =>
    Array.from({ length: angleColumns }, (_, i) =>
      value(cosGrazing + (i / (angleColumns - 1)) * (1 - cosGrazing)),
    ),
  )
  return { width: angleColumns, height: 2, channels: 1, data: Float32Array.from(data) }
}

/** Texel i holds the integral up to 380 + i nm; each nanometre's light lies half on either side of it. */
function cumulative(metal: Float64Array): Table {
  const data = new Float32Array(4 * sampleCount)
  const cmfs = [observer.x, observer.y, observer.z]
  cmfs.forEach((cmf, c) => {
    let sum = 0
    for (let i = 1; i < sampleCount; i++) {
      sum += (metal[i - 1]! * cmf[i - 1]! + metal[i]! * cmf[i]!) / 2
      data[4 * i + c] = sum
    }
  })
  return { width: sampleCount, height: 1, channels: 4, data }
}

function efficiency(grooves: readonly Groove[], { lacquerIndex, readFrom }: Board): Table {
  const height = grooves.length * grooveRows
  const data = new Float32Array(phaseColumns * height)
  grooves.forEach((groove, index) => {
    for (let m = -maxOrder; m <= maxOrder; m++)
      for (let i = 0; i < phaseColumns; i++)
        data[efficiencyRow(index, m) * phaseColumns + i] = orderShare(
          groove,
          facing(m, readFrom),
          (i / (phaseColumns - 1)) * maxPhase,
        )
    data.set(capGrid(groove, lacquerIndex), capRow(index) * phaseColumns)
  })
  return { width: phaseColumns, height, channels: 1, data }
}

function orderZero(
  grooves: readonly Groove[],
  metal: Float64Array,
  primaries: readonly Float64Array[],
): Table {
  const height = grooves.length * slants.length * primaryCount
  const data = new Float32Array(4 * depthColumns * height)
  const cmfs = [observer.x, observer.y, observer.z]
  const part = new Float64Array(sampleCount)
  const shares = new Float64Array(sampleCount)
  const paths = slants.map(s => primaries.map(t => t.map(v => v ** s)))
  grooves.forEach((groove, grooveIndex) => {
    for (let column = 0; column < depthColumns; column++) {
      const depth = (column / (depthColumns - 1)) * maxOpticalDepth
      for (let i = 0; i < sampleCount; i++)
        shares[i] = metal[i]! * orderShare(groove, 0, groovePhase(firstWavelength + i, depth, 1))
      paths.forEach((inks, slantIndex) => {
        inks.forEach((t, p) => {
          for (let i = 0; i < sampleCount; i++) part[i] = shares[i]! * t[i]!
          const texel = orderZeroRow(grooveIndex, slantIndex, p) * depthColumns + column
          cmfs.forEach((cmf, c) => {
            let sum = 0
            for (let i = 0; i < sampleCount; i++) sum += part[i]! * cmf[i]!
            data[4 * texel + c] = sum
          })
        })
      })
    }
  })
  return { width: depthColumns, height, channels: 4, data }
}

/** Transmittances to the power of both slants, four filters a texel. */
function paths(filters: readonly Float64Array[]): Table {
  const texels = Math.ceil(filters.length / 4)
  const height = slants.length * texels
  const step = (lastWavelength - firstWavelength) / (inkColumns - 1)
  const data = new Float32Array(4 * inkColumns * height).fill(1)
  slants.forEach((slant, slantIndex) => {
    filters.forEach((t, p) => {
      const start = (slantIndex * texels + (p >> 2)) * inkColumns
      for (let i = 0; i < inkColumns; i++) data[4 * (start + i) + (p & 3)] = t[i * step]! ** slant
    })
  })
  return { width: inkColumns, height, channels: 4, data }
}

/** A row of texels of three numbers. */
function colors(texels: readonly XYZ[]): Table {
  return {
    width: texels.length,
    height: 1,
    channels: 4,
    data: Float32Array.from(texels.flatMap(t => [...t, 0])),
  }
}

/** X, Y, Z of a light through a filter to a power, over those of the light. */
function ratio(light: Float64Array, filter: Float64Array, power: number): XYZ {
  const whole = spectrumToXyz(light)
  const part = spectrumToXyz(light.map((v, i) => v * filter[i]! ** power))
  return [part[0] / whole[0], part[1] / whole[1], part[2] / whole[2]]
}

/** Mean of a spectrum as each of X, Y, Z weighs it. */
function meanByChannel(light: Float64Array, spectrum: Float64Array): XYZ {
  return ratio(light, spectrum, 1)
}
