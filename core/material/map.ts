import type { PrintCondition } from '../color/print-condition.ts'
import type { ViewDesign } from '../effects/views.ts'
import type { Groove } from '../optics/groove.ts'
import type { MeasuredSpectrum } from '../optics/ink.ts'
import type { WhiteScreen } from '../optics/matter.ts'

export type { Grating, Stack } from '../optics/matter.ts'

export type PlaneData = Uint8Array | Uint16Array | Int16Array

/**
 * One named plane of the map, y down. `full`: row by row, `width × height × components` samples.
 * `tiles`: the picture is cut into squares of `tile` pixels (a power of two), row by row; `index` holds for each square the number
 * of its block in `data` (`tile × tile × components` samples, row by row), or -1 where the plane is zero throughout.
 */
export type MapPlane =
  | { readonly layout: 'full'; readonly components: number; readonly data: PlaneData }
  | {
      readonly layout: 'tiles'
      readonly components: number
      readonly tile: number
      readonly index: Int32Array
      readonly data: PlaneData
    }

/** A printed coat: coverage is a plane, the rest holds for the whole plate. */
export interface WhiteCoat {
  readonly name: string
  /** Plane of coverage 0..255 (screen). */
  readonly coverage: string
  /** Measured opacity of the solid, contrast ratio over black / over 0.89, 0..1. */
  readonly opacity: number
  readonly hits: number
  /** How a coverage below 1 lies; left out: as dots. */
  readonly screen?: WhiteScreen
  /** Unevenness of the coat, rms part of its scattering strength; left out: none. The plane `mottle` says where. */
  readonly mottle?: number
  /** Nobody measured it. */
  readonly assumed: boolean
  /** Its opacity is the solidity that the file states. */
  readonly stated?: true
  /** It was made of the art: no layer of the file has it. */
  readonly made?: true
}

export interface SpotCoat {
  readonly name: string
  readonly coverage: string
  /** Solid on white, L*a*b* D50, or null when neither job nor file gives one. */
  readonly lab: readonly [number, number, number] | null
  /** Measured reflectance of the solid on white; goes before the colour. */
  readonly spectrum?: MeasuredSpectrum | null
}

/**
 * A grating channel; its three planes are tiled. `kappa` is Int16 × 2: grating vector in cycles/µm × `kappaScale`, across the grooves,
 * x right, y up; 0,0 where there is none. `spread` is Uint16 × 2: standard deviation along and across the
 * vector, cycles/µm × `spreadScale`. `relief` is Uint8 × 4: groove depth nm, share 0..255, index into the map's `grooves`, 0.
 */
export interface GratingChannel {
  readonly name: string
  readonly kappa: string
  readonly spread: string
  readonly relief: string
}
export const kappaScale = 32767 / 2.6
export const spreadScale = 65535 / 1.3

/**
 * Views of one area, side by side finer than the eye sees: they share groove, depth and spread. View i has a part
 * byte/255 · share / n of a pixel, byte being its own in the plane `views`.
 */
export interface ViewSet extends ViewDesign {
  readonly name: string
  /** nm */
  readonly grooveDepth: number
  /** Index into the map's `grooves`. */
  readonly groove: number
  /** 0..1 */
  readonly share: number
}

/** An area with one holography effect, for the legend and the probe. Area id 0 is "no holography". */
export interface MapArea {
  readonly id: number
  readonly name: string
  readonly layerId: string
  readonly effect: string
}

/**
 * The carton front as numbers. Planes are an open list: `metal` (0..255), `C` `M` `Y` `K` (ink 0..255, 255 = solid),
 * `area` (id), then what coats and gratings name. Pixel (0,0) is the upper left.
 */
export interface MaterialMap {
  readonly width: number
  readonly height: number
  /** Pixels a millimetre of the finished size. */
  readonly pixelsPerMm: number
  /** Finished size, mm. */
  readonly widthMm: number
  readonly heightMm: number
  readonly planes: ReadonlyMap<string, MapPlane>
  readonly whites: readonly WhiteCoat[]
  readonly spots: readonly SpotCoat[]
  /** What the process inks look like on white; left out: FOGRA39L's full tones and the spectral model. */
  readonly print?: PrintCondition | null
  readonly varnish: string | null
  readonly gratings: readonly GratingChannel[]
  /** Views side by side, see `views.ts`; left out: none. */
  readonly viewSets?: readonly ViewSet[]
  /** Groove shapes that gratings point to. */
  readonly grooves: readonly Groove[]
  readonly areas: readonly MapArea[]
}
