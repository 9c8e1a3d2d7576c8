import {
  EqualStencilFunc,
  GLSL3,
  IncrementStencilOp,
  NoBlending,
  ShaderMaterial,
  type Texture,
  Vector2,
  Vector3,
} from 'three'
import { type Affine, inverseOf, type PrintedGroup, turnOf } from '../../core/checks/register/groups.ts'
import type { XYZ } from '../../core/color/xyz.ts'
import { dirtySince } from '../../core/material/edition.ts'
import type { FirstLook } from '../../core/material/first-look.ts'
import { kappaScale, type MaterialMap, spreadScale } from '../../core/material/map.ts'
import { tileSide } from '../../core/material/tiles.ts'
import { roomFloor } from '../../core/optics/room.ts'
import { bandSamples, bandStep, roomStrata, type Tables } from '../../core/optics/tables.ts'
import type { Light } from '../../core/reference/light.ts'
import { dotMm, type Lay } from '../../core/reference/overlay-lay.ts'
import type { Standing, Vec3 } from '../../core/reference/pose.ts'
import { gratingLimit } from '../../core/reference/shade.ts'
import { float } from './defines.ts'
import { type DisplayPass, displayDefines } from './displayPass.ts'
import area from './glsl/area.glsl?raw'
import band from './glsl/band.glsl?raw'
import boardFragment from './glsl/board.frag.glsl?raw'
import boardVertex from './glsl/board.vert.glsl?raw'
import display from './glsl/display.glsl?raw'
import groove from './glsl/groove.glsl?raw'
import haze from './glsl/haze.glsl?raw'
import map from './glsl/map.glsl?raw'
import orderPower from './glsl/order-power.glsl?raw'
import orders from './glsl/orders.glsl?raw'
import overlay from './glsl/overlay.glsl?raw'
import panel from './glsl/panel.frag.glsl?raw'
import vertex from './glsl/panel.vert.glsl?raw'
import print from './glsl/print.glsl?raw'
import room from './glsl/room.glsl?raw'
import shade from './glsl/shade.glsl?raw'
import siteGlsl from './glsl/site.glsl?raw'
import views from './glsl/views.glsl?raw'
import white from './glsl/white.glsl?raw'
import wide from './glsl/wide.glsl?raw'
import { indexWidth, type MapTextures, mapTextures } from './mapTextures.ts'
import { opticsDefines, opticsNumbers, opticsTables, type TableName } from './optics.ts'
import { coarseTexture, tableTexture } from './tableTextures.ts'
import { seeLook, type Upload } from './tilePool.ts'
import { viewHead, viewNumbers, viewStride } from './viewTable.ts'

/** The most levels a map can have: sides up to 2¹⁵ pixels. */
const mostLevels = 16

/** Memory that a map's textures may take, bytes; a larger map starts at a coarser level. */
const textureBudget = 1 << 30

/** Tables of inks, read for every stratum of a band. */
const oftenFetched: ReadonlySet<string> = new Set<TableName>(['uInkPath', 'uSpotPath'])

/** What the board's shader is compiled with besides its own. */
const sharedDefines: ReadonlySet<string> = new Set(['LAMPS', 'SETS'])

/** A pixel of a sample that a leaf was drawn to takes no other. */
const oneLeaf = {
  stencilFunc: EqualStencilFunc,
  stencilRef: 0,
  stencilZPass: IncrementStencilOp,
} as const

/** The diffractive material: a map, tables and light in; linear X, Y, Z out. */
export class PanelMaterial extends ShaderMaterial {
  /** The same with screen values out: for a single sample a pixel, which needs no sum. */
  readonly direct: ShaderMaterial
  /** Backs and cut edges of leaves, by way of the sum and straight to the screen. */
  readonly board: ShaderMaterial
  readonly directBoard: ShaderMaterial
  #map: MapTextures | null = null
  #levels: readonly MaterialMap[] | null = null
  #tables: readonly Texture[] = []

  constructor({ uniforms }: DisplayPass) {
    super({
      glslVersion: GLSL3,
      vertexShader: vertex,
      fragmentShader: [
        map,
        siteGlsl,
        views,
        groove,
        orderPower,
        print,
        white,
        band,
        orders,
        haze,
        area,
        wide,
        room,
        shade,
        panel,
        overlay,
      ].join('\n'),
      depthTest: false,
      depthWrite: false,
      ...oneLeaf,
      blending: NoBlending,
      defines: {
        MOST_LEVELS: mostLevels,
        TILE: tileSide,
        INDEX_WIDTH: indexWidth,
        SEE_LOOK: seeLook,
        VIEW_HEAD: viewHead,
        VIEW_NUMBERS: viewNumbers,
        VIEW_STRIDE: viewStride,
        KAPPA_SCALE: float(kappaScale),
        SPREAD_SCALE: float(spreadScale),
        SOLID: 0,
        OVERLAY: 0,
        MOVED: 0,
      },
      uniforms: {
        uCoats: { value: null },
        uTileIndex: { value: null },
        uGrating: { value: null },
        uRelief: { value: null },
        uCoatPlaces: { value: new Int32Array(4 * mostLevels) },
        uTilePlaces: { value: new Int32Array(3 * mostLevels) },
        uLevels: { value: 1 },
        uLookLevel: { value: -1 },
        uPanelSize: { value: new Vector2(1, 1) },
        uPixelsPerMm: { value: 1 },
        uDrawn: { value: Array.from({ length: 6 }, () => new Vector3()) },
        uTurned: { value: new Vector2(1, 0) },
        uStepX: { value: new Vector3() },
        uStepY: { value: new Vector3() },
        uDepthAxis: { value: new Vector3(0, 0, -1) },
        uEye: { value: new Vector3() },
        uEyeSigma: { value: 0 },
        uRoomUp: { value: new Vector3() },
        uRoomLevel: { value: 0 },
        uBandSamples: { value: bandSamples },
        uBandStep: { value: bandStep },
        uRoomStrata: { value: roomStrata },
        uRoomFirst: { value: 0 },
        uRoomShare: { value: 1 },
        uUnder: { value: new Vector3() },
        uReach: { value: new Vector2(1, 1) },
        uLeafHeights: { value: new Vector2() },
        uLeafFilms: { value: new Vector2() },
        uLeafShift: { value: new Vector2() },
        uLeafShown: { value: [1, 1, 1] },
        ...uniforms,
      },
    })
    this.direct = new ShaderMaterial({
      glslVersion: GLSL3,
      vertexShader: vertex,
      fragmentShader: [display, this.fragmentShader].join('\n'),
      depthTest: false,
      depthWrite: false,
      blending: NoBlending,
      defines: { ...this.defines, ...displayDefines, DIRECT: 1 },
      uniforms: this.uniforms,
    })
    const face = {
      glslVersion: GLSL3,
      vertexShader: boardVertex,
      depthWrite: false,
      blending: NoBlending,
      uniforms: this.uniforms,
    } as const
    this.board = new ShaderMaterial({
      ...face,
      ...oneLeaf,
      stencilWrite: true,
      fragmentShader: boardFragment,
      defines: { ROOM_FLOOR: float(roomFloor) },
    })
    this.directBoard = new ShaderMaterial({
      ...face,
      fragmentShader: [display, boardFragment].join('\n'),
      defines: { ...this.board.defines, ...displayDefines, DIRECT: 1 },
    })
  }

  /**
   * Whether leaves of a solid are drawn, whose depths are known already, or the panel alone. Of leaves that lie in one
   * plane the first takes the pixel: a sum would have the light of all of them.
   */
  setSolid(solid: boolean): void {
    this.depthTest = solid
    this.direct.depthTest = solid
    this.stencilWrite = solid
    this.#define({ SOLID: Number(solid) })
  }

  /** How groups of plates lie on the cut panel, mm from its middle; null: as drawn. */
  setGroups(lies: Readonly<Record<PrintedGroup, Affine>> | null): void {
    this.#define({ MOVED: Number(lies !== null) })
    if (lies === null) return
    const rows = this.uniforms.uDrawn!.value as readonly Vector3[]
    for (const [i, group] of (['holography', 'white', 'colour'] as const).entries()) {
      const { xx, xy, yx, yy, x0, y0 } = inverseOf(lies[group])
      rows[2 * i]!.set(xx, xy, x0)
      rows[2 * i + 1]!.set(yx, yy, y0)
    }
    const turn = turnOf(lies.holography)
    ;(this.uniforms.uTurned!.value as Vector2).set(Math.cos(turn), Math.sin(turn))
  }

  /**
   * Leaves that lie apart, or null for the print.
   * @param under what lies under them all
   * @param reach half sides of the board's plane as far as any leaf is seen
   */
  setOverlay(lay: Lay | null, under: XYZ, reach: readonly [number, number]): void {
    this.#define({ OVERLAY: Number(lay !== null) })
    if (lay === null) return
    const { white, inks } = lay
    const pair = (name: string, x: number, y: number) => (this.uniforms[name]!.value as Vector2).set(x, y)
    const panel = this.uniforms.uPanelSize!.value as Vector2
    pair('uReach', (2 * reach[0]) / panel.x, (2 * reach[1]) / panel.y)
    pair('uLeafHeights', white.height, inks.height)
    pair('uLeafFilms', white.film, inks.film)
    pair('uLeafShift', inks.x, inks.y)
    this.#set('uLeafShown', [lay.board, white.shown, inks.shown].map(Number))
    this.#set('uContact', lay.contact)
    this.#set('uFilmIndex', lay.index)
    this.#set('uFilmVariance', lay.variance)
    this.#set('uApart', Number(lay.apart))
    this.#set('uDotMm', dotMm)
    this.#vector('uUnder', under)
  }

  /**
   * @param side   largest texture side of the graphics card
   * @param upload sends a part of a texture to the card; used where the levels came of those shown, in place
   */
  setMap(pyramid: readonly MaterialMap[] | null, side: number, upload: Upload): void {
    const base = pyramid?.[0]
    const dirty = pyramid && this.#levels && dirtySince(this.#levels, pyramid)
    this.#levels = pyramid
    if (
      pyramid == null ||
      base === undefined ||
      !dirty ||
      !this.#map?.update(pyramid.slice(0, mostLevels), dirty, upload)
    ) {
      this.#map?.dispose()
      this.#map = null
    }
    if (pyramid == null || base === undefined) return
    this.#map ??= mapTextures(pyramid.slice(0, mostLevels), { side, bytes: textureBudget })
    const textures = this.#map
    this.#set('uLookLevel', -1)
    this.#set('uCoats', textures.coats)
    this.#set('uTileIndex', textures.tileIndex)
    this.#set('uGrating', textures.grating)
    this.#set('uRelief', textures.relief)
    textures.levels.forEach((level, i) => {
      ;(this.uniforms.uCoatPlaces!.value as Int32Array).set(level.coats, 4 * i)
      ;(this.uniforms.uTilePlaces!.value as Int32Array).set(level.tiles, 3 * i)
    })
    this.#set('uLevels', textures.levels.length)
    this.#set('uPixelsPerMm', pyramid[textures.skipped]!.pixelsPerMm)
    ;(this.uniforms.uPanelSize!.value as Vector2).set(base.widthMm, base.heightMm)
    this.#set('uViewTable', textures.viewTable)
    const plain = Math.min(gratingLimit, base.gratings.length)
    const views = Math.max(0, ...(base.viewSets ?? []).map(set => set.channels.length))
    this.#define({
      PLAIN_CHANNELS: plain,
      VIEWS: views,
      CHANNELS: plain + views,
    })
    this.#set('uChannels', plain + views)
  }

  /**
   * Shows the first look of an edit over the map, or the map alone.
   * @param side @param upload as `setMap` has them
   */
  setLook(look: FirstLook | null, side: number, upload: Upload): void {
    const levels = this.#levels
    const textures = this.#map
    if (levels === null || textures === null) return
    const shown = levels.slice(0, mostLevels)
    const fits = look === null ? textures.update(shown, [], upload) : textures.setLook(shown, look, upload)
    if (fits) this.#set('uLookLevel', textures.lookLevel)
    else {
      this.#levels = null
      this.setMap(levels, side, upload)
    }
  }

  /** @param sets one a spectrum among the lamps */
  setTables(sets: readonly [Tables, ...Tables[]]): void {
    for (const texture of this.#tables) texture.dispose()
    const textures: Texture[] = []
    for (const [name, table] of Object.entries(opticsTables(sets))) {
      if (table === null) continue
      const texture = oftenFetched.has(name) ? coarseTexture(table) : tableTexture(table)
      textures.push(texture)
      this.#set(name, texture)
    }
    this.#tables = textures
    for (const [name, numbers] of Object.entries(opticsNumbers(sets)))
      this.#set(name, numbers.length === 1 ? numbers[0] : [...numbers])
    this.#define(opticsDefines(sets))
  }

  setView(standing: Standing, steps: { readonly stepX: Vec3; readonly stepY: Vec3 }, light: Light): void {
    const [, , depth] = standing.view
    this.#vector('uStepX', steps.stepX)
    this.#vector('uStepY', steps.stepY)
    this.#vector('uDepthAxis', [-depth[0], -depth[1], -depth[2]])
    this.#vector('uEye', standing.eye)
    this.#set('uEyeSigma', light.eyeSigma)
    const { lamps } = light
    this.#set(
      'uLampMiddle',
      lamps.flatMap(lamp => lamp.middle),
    )
    this.#set(
      'uLampAcross',
      lamps.flatMap(lamp => lamp.across),
    )
    this.#set(
      'uLampUp',
      lamps.flatMap(lamp => lamp.up),
    )
    this.#set(
      'uLampPointScale',
      lamps.map(lamp => lamp.pointScale),
    )
    this.#set(
      'uLampWideScale',
      lamps.map(lamp => lamp.wideScale),
    )
    this.#set(
      'uLampRound',
      lamps.map(lamp => Number(lamp.round)),
    )
    this.#set(
      'uLampWide',
      lamps.map(lamp => Number(lamp.wide)),
    )
    this.#set(
      'uLampSet',
      lamps.map(lamp => lamp.set),
    )
    this.#set('uRoomParts', [...light.roomParts])
    this.#define({
      LAMPS: lamps.length,
      WIDE: Number(lamps.some(lamp => lamp.wide)),
      ROOM: Number(light.surround.level > 0),
    })
    this.#vector('uRoomUp', light.surround.up)
    this.#set('uRoomLevel', light.surround.level)
  }

  /** Samples of every band over those of the exact picture, in (0, 1]. */
  setSampling(part: number): void {
    this.#set('uBandSamples', Math.ceil(bandSamples * part))
    this.#set('uBandStep', bandStep / part)
    this.#set('uRoomStrata', part < 1 ? 0 : roomStrata)
  }

  /** Which strata of the room a sample takes: from `first` on every `share`-th, standing for all. */
  setRoomShare(first: number, share: number): void {
    this.#set('uRoomFirst', first)
    this.#set('uRoomShare', share)
  }

  override dispose(): void {
    this.#map?.dispose()
    for (const texture of this.#tables) texture.dispose()
    for (const material of [this.direct, this.board, this.directBoard]) material.dispose()
    super.dispose()
  }

  #set(name: string, value: unknown): void {
    const uniform = this.uniforms[name]
    if (uniform === undefined) this.uniforms[name] = { value }
    else uniform.value = value
  }

  #vector(name: string, [x, y, z]: Vec3): void {
    ;(this.uniforms[name]!.value as Vector3).set(x, y, z)
  }

  #define(defines: Readonly<Record<string, string | number>>): void {
    for (const [name, value] of Object.entries(defines)) {
      if (this.defines[name] === value) continue
      const board = sharedDefines.has(name) ? [this.board, this.directBoard] : []
      for (const material of [this, this.direct, ...board]) {
        material.defines[name] = value
        material.needsUpdate = true
      }
    }
  }
}
