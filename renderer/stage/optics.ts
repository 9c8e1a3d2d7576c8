import { factorShelf } from '../../core/color/print-condition.ts'
import { firstWavelength, lastWavelength } from '../../core/color/spectrum.ts'
import { mottleOffset, mottleScale } from '../../core/material/mottle.ts'
import {
  leastHeight,
  lowestToward,
  normalFit,
  rimPart,
  squareInset,
  wideReach,
} from '../../core/optics/area.ts'
import type { Table } from '../../core/optics/coordinate.ts'
import { smithFit } from '../../core/optics/gloss.ts'
import { inkNodes } from '../../core/optics/ink-nodes.ts'
import { roundSides } from '../../core/optics/outline-light.ts'
import { spotNodeRows } from '../../core/optics/print-table.ts'
import { roomFloor } from '../../core/optics/room.ts'
import {
  angleColumns,
  bandReach,
  bandReachWide,
  bandStretch,
  bandWidens,
  capRows,
  capStep,
  capWavelengths,
  depthColumns,
  grooveRows,
  hazeWavelength,
  inkColumns,
  kernelReach,
  maxOpticalDepth,
  maxOrder,
  maxPhase,
  orderRows,
  phaseColumns,
  primaryCount,
  printNodes,
  slants,
  type Tables,
} from '../../core/optics/tables.ts'
import { surfaceInside } from '../../core/optics/white.ts'
import { nothing } from '../../core/reference/shade.ts'
import { noLight } from '../../core/reference/shade-room.ts'
import { float } from './defines.ts'
import { mostCoats } from './mapTextures.ts'

/** Uniform name of each table. */
export type TableName =
  | 'uCumulative'
  | 'uEfficiency'
  | 'uOrderZero'
  | 'uMetalAngle'
  | 'uInkPath'
  | 'uPrint'
  | 'uSpotPath'
  | 'uSpotColor'
  | 'uSpotNodes'

/** All tables of one picture: those that depend on the lamp's spectrum lie row over row, one spectrum after the other. */
export function opticsTables(sets: readonly Tables[]): Readonly<Record<TableName, Table | null>> {
  const [first, ...others] = sets.map(tablesOf)
  if (first === undefined) throw new RangeError('tables: expected one set a spectrum, got none')
  const stack = (name: TableName) => stacked([first, ...others].map(tables => tables[name]))
  return {
    ...first,
    ...Object.fromEntries(byLight.map(name => [name, stack(name)])),
  }
}

/** Tables that know the lamp's spectrum. */
const byLight = [
  'uCumulative',
  'uOrderZero',
  'uPrint',
  'uSpotColor',
  'uSpotNodes',
] as const satisfies readonly TableName[]

function stacked(tables: readonly (Table | null)[]): Table | null {
  const [first] = tables
  if (first == null || tables.length === 1) return first ?? null
  const data = new Float32Array(first.data.length * tables.length)
  tables.forEach((table, i) => {
    if (table !== null) data.set(table.data, i * first.data.length)
  })
  return { ...first, height: first.height * tables.length, data }
}

function tablesOf(tables: Tables): Readonly<Record<TableName, Table | null>> {
  return {
    uCumulative: finer(tables.cumulative, lightSteps),
    uEfficiency: tables.efficiency,
    uOrderZero: tables.orderZero,
    uMetalAngle: tables.metalAngle,
    uInkPath: finer(tables.inkPath, inkStep),
    uPrint: tables.printTable,
    uSpotPath: tables.spotPath && finer(tables.spotPath, inkStep),
    uSpotColor: tables.spotColor,
    uSpotNodes: tables.spotNodes,
  }
}

/** Steps of a nanometre in the table of light on the screen: a stratum of the narrowest band holds several. */
const lightSteps = 16
/** Nanometres between ink columns. */
const inkStep = (lastWavelength - firstWavelength) / (inkColumns - 1)

/** A table with so many steps where it had one, straight between its columns: the shader then takes the nearest. */
function finer({ width, height, channels, data }: Table, steps: number): Table {
  const columns = (width - 1) * steps + 1
  const fine = new Float32Array(columns * height * channels)
  for (let row = 0; row < height; row++)
    for (let i = 0; i < columns; i++) {
      const left = Math.min(Math.floor(i / steps), width - 2)
      const part = i / steps - left
      for (let c = 0; c < channels; c++) {
        const from = (row * width + left) * channels + c
        fine[(row * columns + i) * channels + c] = data[from]! + part * (data[from + channels]! - data[from]!)
      }
    }
  return { width: columns, height, channels, data: fine }
}

/** Sizes and ranges of the tables, for the preprocessor. */
export function opticsDefines(
  sets: readonly [Tables, ...Tables[]],
): Readonly<Record<string, string | number>> {
  const [tables] = sets
  return {
    SETS: sets.length,
    PI: float(Math.PI),
    FIRST_WAVELENGTH: float(firstWavelength),
    LAST_WAVELENGTH: float(lastWavelength),
    MAX_ORDER: maxOrder,
    MAX_PHASE: float(maxPhase),
    LIGHT_STEPS: float(lightSteps),
    ANGLE_COLUMNS: angleColumns,
    PHASE_COLUMNS: phaseColumns,
    GROOVES: tables.grooves.length,
    GROOVE_ROWS: grooveRows,
    ORDER_ROWS: orderRows,
    CAP_ROWS: capRows,
    CAP_STEP: float(capStep),
    CAP_WAVELENGTHS: `vec3(${capWavelengths.map(float).join(', ')})`,
    HAZE_WAVELENGTH: float(hazeWavelength),
    MAX_OPTICAL_DEPTH: float(maxOpticalDepth),
    DEPTH_COLUMNS: depthColumns,
    SLANT_FIRST: float(slants[0]),
    SLANT_SECOND: float(slants[1]),
    PRIMARIES: primaryCount,
    INK_NODES: inkNodes.length,
    SPOT_NODE_ROWS: spotNodeRows,
    PRINT_NODES: printNodes,
    FACTOR_SHELF: float(factorShelf),
    TONE_GAIN: tables.toneExponents.some(q => q !== 1) ? 1 : 0,
    INK_STEP: float(inkStep),
    BAND_REACH: float(bandReach),
    BAND_REACH_WIDE: float(bandReachWide),
    BAND_WIDENS: `vec2(${bandWidens.map(float).join(', ')})`,
    BAND_STRETCH: bandStretch,
    KERNEL_REACH: float(kernelReach),
    NOTHING: float(nothing),
    NO_LIGHT: float(noLight),
    SMITH_A: float(smithFit.a),
    SMITH_B: float(smithFit.b),
    SMITH_C: float(smithFit.c),
    SMITH_D: float(smithFit.d),
    SMITH_REACH: float(smithFit.reach),
    ROOM_FLOOR: float(roomFloor),
    WIDE_REACH: float(wideReach),
    LOWEST_TOWARD: float(lowestToward),
    LEAST_HEIGHT: float(leastHeight),
    SQUARE_INSET: float(squareInset),
    RIM_PART: float(rimPart),
    NORMAL_A: float(normalFit.a),
    NORMAL_B: float(normalFit.b),
    NORMAL_REACH: float(normalFit.reach),
    ROUND_SIDES: roundSides,
    SURFACE_INSIDE: float(surfaceInside),
    TINTED: tables.tinted ? 1 : 0,
    COATED_PARTS: tables.wavinessVariances[1] > tables.wavinessVariances[0] ? 2 : 1,
    HAZE: tables.haze === null ? 0 : 1,
    MOTTLE_SCALE: float(mottleScale),
    MOTTLE_OFFSET: float(mottleOffset),
    WHITES: Math.min(mostCoats, tables.whiteScatter.length),
    SPOTS: Math.min(mostCoats, tables.spotColor?.width ?? 0),
  }
}

/** What the tables know besides textures: uniform names and values, one to four numbers each. */
export function opticsNumbers(
  sets: readonly [Tables, ...Tables[]],
): Readonly<Record<string, readonly number[]>> {
  const [tables] = sets
  const four = (list: readonly number[]) => Array.from({ length: mostCoats }, (_, i) => list[i] ?? 0)
  return {
    uGrooves: tables.grooves.flatMap(({ vector, freeFrom }) => [vector, freeFrom]),
    uHaze: sets.flatMap(set => set.haze?.color ?? [0, 0, 0]),
    uHazeVariance: [tables.haze?.variance ?? 0],
    uHazeSteepness: [tables.haze?.steepness ?? 0],
    uToneExponents: tables.toneExponents,
    uPaperTint: tables.paperTint,
    uWhite: sets.flatMap(set => set.white),
    uFoilAlbedo: sets.flatMap(set => set.foilAlbedo),
    uBoardAlbedo: sets.flatMap(set => set.boardAlbedo),
    uWhiteScatter: four(tables.whiteScatter),
    uWhiteStraight: four(tables.whiteStraight),
    uWhiteMottle: four(tables.whiteMottle),
    uWhiteEven: four(tables.whiteEven.map(Number)),
    uEvenlyEntering: [tables.evenlyEntering],
    uCoat: [tables.coat],
    uCosGrazing: [tables.cosGrazing],
    uWavinessVariances: tables.wavinessVariances,
    uCellVariance: tables.cellVariance,
    uGlossVariance: tables.glossVariance,
  }
}
