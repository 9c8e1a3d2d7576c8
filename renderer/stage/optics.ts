import { firstWavelength, lastWavelength } from '../../core/color/spectrum.ts'
import type { Table } from '../../core/optics/coordinate.ts'
import { grooveShapes } from '../../core/optics/matter.ts'
import { roomFloor } from '../../core/optics/room.ts'
import {
  bandReach,
  bandStep,
  efficiencyRow,
  kernelReach,
  maxOpticalDepth,
  maxOrder,
  maxPhase,
  primaryCount,
  slants,
  type Tables,
} from '../../core/optics/tables.ts'
import { float } from './defines.ts'
import { mostCoats } from './mapTextures.ts'

/** Uniform name of each table. */
export type TableName =
  | 'uCumulative'
  | 'uEfficiency'
  | 'uOrderZero'
  | 'uMetalAngle'
  | 'uInkPath'
  | 'uInkDiffuse'
  | 'uSpotPath'
  | 'uSpotColor'

export function opticsTables(tables: Tables): Readonly<Record<TableName, Table | null>> {
  return {
    uCumulative: tables.cumulative,
    uEfficiency: tables.efficiency,
    uOrderZero: tables.orderZero,
    uMetalAngle: tables.metalAngle,
    uInkPath: tables.inkPath,
    uInkDiffuse: tables.inkDiffuse,
    uSpotPath: tables.spotPath,
    uSpotColor: tables.spotColor,
  }
}

/** Sizes and ranges of the tables, for the preprocessor. */
export function opticsDefines(tables: Tables): Readonly<Record<string, string | number>> {
  return {
    MAX_ORDER: maxOrder,
    MAX_PHASE: float(maxPhase),
    ROW_SINUSOID: efficiencyRow.sinusoid,
    ROW_RECTANGULAR: efficiencyRow.rectangular,
    ROW_BLAZED: efficiencyRow.blazed,
    MAX_OPTICAL_DEPTH: float(maxOpticalDepth),
    SLANT_FIRST: float(slants[0]),
    SLANT_SECOND: float(slants[1]),
    PRIMARIES: primaryCount,
    BAND_STEP: float(bandStep),
    BAND_REACH: float(bandReach),
    KERNEL_REACH: float(kernelReach),
    FIRST_WAVELENGTH: float(firstWavelength),
    LAST_WAVELENGTH: float(lastWavelength),
    ROOM_FLOOR: float(roomFloor),
    WHITES: Math.min(mostCoats, tables.whiteScatter.length),
    SPOTS: Math.min(mostCoats, tables.spotColor?.width ?? 0),
    SHAPE_SINUSOID: grooveShapes.indexOf('sinusoid'),
    SHAPE_RECTANGULAR: grooveShapes.indexOf('rectangular'),
    SHAPE_BLAZED: grooveShapes.indexOf('blazed'),
  }
}
