import { firstWavelength, lastWavelength } from '../../core/color/spectrum.ts'
import type { Table } from '../../core/optics/coordinate.ts'
import { smithFit } from '../../core/optics/gloss.ts'
import { inkNodes } from '../../core/optics/ink-nodes.ts'
import { roomFloor } from '../../core/optics/room.ts'
import {
  bandReach,
  capRows,
  capStep,
  capWavelength,
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
  slants,
  type Tables,
} from '../../core/optics/tables.ts'
import { surfaceInside } from '../../core/optics/white.ts'
import { nothing } from '../../core/reference/shade.ts'
import { float } from './defines.ts'
import { mostCoats } from './mapTextures.ts'

/** Uniform name of each table. */
export type TableName =
  | 'uCumulative'
  | 'uEfficiency'
  | 'uOrderZero'
  | 'uMetalAngle'
  | 'uInkPath'
  | 'uInkNodes'
  | 'uNodeWeights'
  | 'uSpotPath'
  | 'uSpotColor'
  | 'uSpotNodes'

export function opticsTables(tables: Tables): Readonly<Record<TableName, Table | null>> {
  return {
    uCumulative: tables.cumulative,
    uEfficiency: tables.efficiency,
    uOrderZero: tables.orderZero,
    uMetalAngle: tables.metalAngle,
    uInkPath: tables.inkPath,
    uInkNodes: tables.inkNodes,
    uNodeWeights: tables.nodeWeights,
    uSpotPath: tables.spotPath,
    uSpotColor: tables.spotColor,
    uSpotNodes: tables.spotNodes,
  }
}

/** Sizes and ranges of the tables, for the preprocessor. */
export function opticsDefines(tables: Tables): Readonly<Record<string, string | number>> {
  return {
    PI: float(Math.PI),
    FIRST_WAVELENGTH: float(firstWavelength),
    LAST_WAVELENGTH: float(lastWavelength),
    MAX_ORDER: maxOrder,
    MAX_PHASE: float(maxPhase),
    PHASE_COLUMNS: phaseColumns,
    GROOVES: tables.grooves.length,
    GROOVE_ROWS: grooveRows,
    ORDER_ROWS: orderRows,
    CAP_ROWS: capRows,
    CAP_STEP: float(capStep),
    CAP_WAVELENGTH: float(capWavelength),
    HAZE_WAVELENGTH: float(hazeWavelength),
    MAX_OPTICAL_DEPTH: float(maxOpticalDepth),
    DEPTH_COLUMNS: depthColumns,
    SLANT_FIRST: float(slants[0]),
    SLANT_SECOND: float(slants[1]),
    PRIMARIES: primaryCount,
    INK_NODES: inkNodes.length,
    INK_COLUMNS: inkColumns,
    INK_STEP: float((lastWavelength - firstWavelength) / (inkColumns - 1)),
    BAND_REACH: float(bandReach),
    KERNEL_REACH: float(kernelReach),
    NOTHING: float(nothing),
    SMITH_A: float(smithFit.a),
    SMITH_B: float(smithFit.b),
    SMITH_C: float(smithFit.c),
    SMITH_D: float(smithFit.d),
    SMITH_REACH: float(smithFit.reach),
    ROOM_FLOOR: float(roomFloor),
    SURFACE_INSIDE: float(surfaceInside),
    WHITES: Math.min(mostCoats, tables.whiteScatter.length),
    SPOTS: Math.min(mostCoats, tables.spotColor?.width ?? 0),
  }
}

/** What the tables know besides textures: uniform names and values, one to four numbers each. */
export function opticsNumbers(tables: Tables): Readonly<Record<string, readonly number[]>> {
  const four = (list: readonly number[]) => Array.from({ length: mostCoats }, (_, i) => list[i] ?? 0)
  return {
    uGrooves: tables.grooves.flatMap(({ vector, freeFrom }) => [vector, freeFrom]),
    uHaze: tables.haze?.color ?? [0, 0, 0],
    uHazeVariance: [tables.haze?.variance ?? 0],
    uHazeSteepness: [tables.haze?.steepness ?? 0],
    uWhite: tables.white,
    uFoilAlbedo: tables.foilAlbedo,
    uBoardAlbedo: tables.boardAlbedo,
    uWhiteScatter: four(tables.whiteScatter),
    uWhiteStraight: four(tables.whiteStraight),
    uEvenlyEntering: [tables.evenlyEntering],
    uCoat: [tables.coat],
    uCosGrazing: [tables.cosGrazing],
    uWavinessVariance: [tables.wavinessVariance],
    uCellVariance: tables.cellVariance,
    uGlossVariance: tables.glossVariance,
  }
}
