import type { XYZ } from '../color/xyz.ts'
import { aimArea } from '../optics/area.ts'
import { fresnel, refracted } from '../optics/fresnel.ts'
import type { Surround } from '../optics/room.ts'
import { slants, type Tables } from '../optics/tables.ts'
import { aim, aimLamp, type Light } from './light.ts'
import { filmReflectance } from './overlay.ts'
import { dotMm, type LaidLeaf, type Lay } from './overlay-lay.ts'
import { type Crossed, emptyCrossed, type LeafSampler } from './overlay-sample.ts'
import { prepareEye } from './prepare-eye.ts'
import { addGloss, addLampInMetal, addWideStraight, printFor, slantOf, topLobe } from './shade.ts'
import { plainMirror } from './shade-mirror.ts'
import { joinPrints, setPrint } from './shade-print.ts'
import { addRoomInMetal, addRoomScattered, roomImage } from './shade-room.ts'
import {
  addScattered,
  layWhites,
  overlapsPass,
  prepareWhites,
  spreadThrough,
  straightThrough,
} from './shade-white.ts'
import { aimWideAsPoint } from './shade-wide.ts'
import { type Apart, emptyPrint, type Print, type Site } from './site.ts'

/** What all places of a picture of leaves that lie apart share. */
export interface OverlayGround {
  readonly lay: Lay
  /** The light as it stands over the board, and over each leaf: the same with its plane as z = 0. */
  readonly light: Light
  readonly sampler: LeafSampler
  readonly sets: readonly Tables[]
  /** What lies under all leaves. */
  readonly under: XYZ
}

/**
 * Light of board, white and overprint that lie apart. Each ray crosses the leaves where it meets them: what the eye sees of
 * the board goes through the white and the inks of one place on its way and through those of another from the lamp, which
 * is where shadows and double edges come from. The films' surfaces dim what passes and show lamp and room themselves.
 * Light that goes to and fro between the leaves is left out.
 */
export class OverlayShade {
  readonly #ground: OverlayGround
  readonly #site: Site
  readonly #overWhite: Light
  readonly #overInks: Light
  /** Where the lamp's ray to the board crosses the whites and the inks, and its ray to the white crosses the inks. */
  readonly #toBoard: Crossed
  readonly #toWhite: Crossed
  readonly #apart: Apart
  readonly #lampScatter: Float64Array
  /** Inks at those crossings, and with those on the eye's way, for each set of tables. */
  readonly #prints: readonly {
    readonly toBoard: Print
    readonly toWhite: Print
    readonly board: Print
    readonly white: Print
  }[]
  readonly #extra = new Float64Array(3)
  readonly #ink = new Float64Array(3)
  readonly #reflect: (cos: number, index: number) => number
  /** What both films and the front one let through on the eye's way; and what of it counts for the white behind. */
  #eyeFilms = 1
  #eyeFront = 1
  /** Part of the front film that has white on its back, where it has but one surface. */
  #backed = 0
  #onBoard = false
  #onWhite = false
  #onInks = false
  #whiteX = 0
  #whiteY = 0
  #inksX = 0
  #inksY = 0

  constructor(ground: OverlayGround, site: Site) {
    const { lay, light, sets } = ground
    this.#ground = ground
    this.#site = site
    this.#overWhite = raised(light, lay.white.height)
    this.#overInks = raised(light, lay.inks.height)
    this.#toBoard = emptyCrossed(site)
    this.#toWhite = emptyCrossed(site)
    const plates = site.whites.length
    this.#lampScatter = new Float64Array(plates)
    this.#apart = {
      eyeSlant: 1,
      cover: new Float64Array(plates),
      straight: new Float64Array(plates),
      together: 1,
      film: 1,
      backing: 1,
    }
    this.#prints = sets.map((tables, set) => {
      const eye = site.prints[set]!
      const toBoard = emptyPrint(tables)
      const toWhite = emptyPrint(tables)
      return {
        toBoard,
        toWhite,
        board: emptyPrint(tables, [eye, toBoard]),
        white: emptyPrint(tables, [eye, toWhite]),
      }
    })
    this.#reflect = (cos, index) => {
      const F = fresnel(cos, index)
      return this.#backed * F + (1 - this.#backed) * filmReflectance(F)
    }
  }

  /**
   * Light towards the eye along the ray that meets the board's plane at (x, y), as `shadeAll` has it; false where it meets
   * no leaf.
   * @param kx, ky panel step of that ray a unit of height
   */
  shade(x: number, y: number, kx: number, ky: number, level: number, out: Float64Array): boolean {
    const { light, sets, under } = this.#ground
    if (!this.#open(x, y, kx, ky, level)) return false
    const site = this.#site
    out.fill(0)
    aim(light, x, y, site)
    const scattering = prepareWhites(site, sets[0]!)
    const { white, inks } = this.#ground.lay
    this.#backed = 0
    this.#eyeFront = this.#onInks ? this.#passing(inks, site.eyeZ) : 1
    this.#eyeFilms = this.#eyeFront * (this.#onWhite ? this.#passing(white, site.eyeZ) : 1)
    const apart = this.#apart
    apart.eyeSlant = 1 / refracted(site.eyeZ, sets[0]!.coat)
    apart.backing = this.#onBoard ? 1 : 0
    site.apart = apart
    for (let i = 0; i < light.lamps.length; i++) this.#underLamp(x, y, i, level, scattering, out)
    aim(light, x, y, site)
    if (light.surround.level > 0) {
      prepareEye(site, sets[0]!)
      for (let set = 0; set < sets.length; set++) this.#underRoom(set, light.rooms[set]!, scattering, out)
    }
    if (!this.#onBoard) {
      const tables = printFor(site, sets, 0)
      this.#throughInks(tables, 2 * apart.eyeSlant, this.#ink)
      const left = this.#eyeFilms * spreadThrough(site)
      for (let c = 0; c < 3; c++) out[c]! += left * under[c]! * Math.sqrt(this.#ink[c]!)
    }
    site.apart = null
    return true
  }

  /** Sets the matter along the eye's ray; false where it meets no leaf. */
  #open(x: number, y: number, kx: number, ky: number, level: number): boolean {
    const { lay, light, sampler } = this.#ground
    const site = this.#site
    this.#onBoard = lay.board && sampler.board(x, y, level, site)
    if (!this.#onBoard) {
      site.metal = 0
      site.varnish = 0
      site.gratings = 0
    }
    this.#whiteX = x + lay.white.height * kx
    this.#whiteY = y + lay.white.height * ky
    this.#inksX = x + lay.inks.height * kx
    this.#inksY = y + lay.inks.height * ky
    const { whites, inks, spots } = site
    whites.fill(0)
    inks.fill(0)
    spots.fill(0)
    site.unevenness = 0
    this.#onWhite = this.#onInks = false
    const crossed = this.#toBoard
    if (light.eyeZ > lay.white.height) {
      sampler.whites(lay.white, this.#whiteX, this.#whiteY, level, crossed)
      this.#onWhite = crossed.on && (lay.white.shown || lay.white.film > 0)
      whites.set(crossed.whites)
      site.unevenness = crossed.unevenness
    }
    if (light.eyeZ > lay.inks.height) {
      sampler.inks(lay.inks, this.#inksX, this.#inksY, level, crossed)
      this.#onInks = crossed.on && (lay.inks.shown || lay.inks.film > 0)
      inks.set(crossed.inks)
      spots.set(crossed.spots)
    }
    return this.#onBoard || this.#onWhite || this.#onInks
  }

  #underLamp(x: number, y: number, i: number, level: number, scattering: boolean, out: Float64Array): void {
    const { light, sets, lay } = this.#ground
    const site = this.#site
    const { set } = light.lamps[i]!
    const tables = printFor(site, sets, set)
    const prints = this.#prints[set]!
    const films = this.#wayFrom(x, y, light, i, level, tables)
    join(prints.board, prints.toBoard, this.#toBoard, tables)
    const inked = white(site)
    if (this.#onBoard) {
      site.print = prints.board
      this.#apart.film = this.#eyeFilms * films
      this.#addBoard(light, x, y, i, tables, out)
      if (scattering && !inked) {
        // The bare board's own: the white on the lamp's way dims it.
        const left = this.#eyeFilms * films * overlapsPass(this.#apart.cover, this.#lampScatter)
        this.#addScattered(light, x, y, i, tables, left, out)
      }
    }
    if (inked || (this.#onWhite && lay.white.film > 0)) {
      const front = this.#behind(this.#inksOver(this.#whiteX, this.#whiteY, i, level) * this.#eyeFront)
      join(prints.white, prints.toWhite, this.#toWhite, tables)
      site.print = prints.white
      if (inked) this.#addScattered(this.#overWhite, this.#whiteX, this.#whiteY, i, tables, front, out)
      const shine = this.#filmGloss(lay.white, this.#onWhite, this.#overWhite, this.#whiteX, this.#whiteY, i)
      if (shine > 0) {
        this.#throughInks(tables, slantOf(site, tables), this.#ink)
        for (let c = 0; c < 3; c++) out[c]! += front * shine * this.#ink[c]! * tables.white[c]!
      }
    }
    this.#backed = this.#whiteBehind()
    const shine = this.#filmGloss(lay.inks, this.#onInks, this.#overInks, this.#inksX, this.#inksY, i)
    this.#backed = 0
    for (let c = 0; shine > 0 && c < 3; c++) out[c]! += shine * tables.white[c]!
  }

  /** What the metal of the board and its top surface send of a lamp. */
  #addBoard(light: Light, x: number, y: number, i: number, tables: Tables, out: Float64Array): void {
    const site = this.#site
    const lamp = light.lamps[i]!
    aim(light, x, y, site)
    if (lamp.wide) {
      addWideStraight(site, tables, lamp, false, out)
      if (site.area.light <= 0) return
      aimWideAsPoint(site, lamp)
      if (site.lampZ <= 0) return
    } else {
      aimLamp(lamp, site)
      if (site.lampZ <= 0 || site.irradiance <= 0) return
      addLampInMetal(site, tables, out)
    }
    this.#extra.fill(0)
    addGloss(site, tables, lamp.wide ? lamp : null, this.#extra)
    if (this.#extra[1] === 0) return
    this.#underLeaves(tables, slantOf(site, tables), this.#extra, out)
  }

  /** Adds light of the board's own surface, which a print has on top of all and a film or a lifted leaf has over it. */
  #underLeaves(tables: Tables, slant: number, light: Float64Array, out: Float64Array): void {
    if (!this.#ground.lay.apart) {
      for (let c = 0; c < 3; c++) out[c]! += light[c]!
      return
    }
    const left = straightThrough(this.#site, slant)
    this.#throughInks(tables, slant, this.#ink)
    for (let c = 0; c < 3; c++) out[c]! += left * light[c]! * this.#ink[c]!
  }

  /** What white and bare board scatter of a lamp, seen from (x, y) of that leaf; `left` of it comes through the films. */
  #addScattered(
    light: Light,
    x: number,
    y: number,
    i: number,
    tables: Tables,
    left: number,
    out: Float64Array,
  ): void {
    const site = this.#site
    const lamp = light.lamps[i]!
    aim(light, x, y, site)
    let cosLamp: number
    let irradiance: number
    if (lamp.wide) {
      const area = aimArea(lamp, x, y, site.area)
      irradiance = lamp.wideScale * area.light
      cosLamp = area.lightCos
    } else {
      aimLamp(lamp, site)
      irradiance = site.lampZ > 0 ? site.irradiance : 0
      cosLamp = site.lampZ
    }
    if (irradiance <= 0) return
    const slant = 1 / refracted(cosLamp, tables.coat) + 1 / refracted(site.eyeZ, tables.coat)
    addScattered(site, tables, slant, 1 - fresnel(cosLamp, tables.coat), left * irradiance, out)
  }

  /** The lamp's mirror image in a leaf's film, part of perfect white. Leaves the site aimed at lamp and eye from there. */
  #filmGloss({ film }: LaidLeaf, on: boolean, light: Light, x: number, y: number, i: number): number {
    if (!on || film === 0) return 0
    const { lay } = this.#ground
    const site = this.#site
    const lamp = light.lamps[i]!
    aim(light, x, y, site)
    if (lamp.wide) {
      if (aimArea(lamp, x, y, site.area).light <= 0) return 0
      aimWideAsPoint(site, lamp)
    } else aimLamp(lamp, site)
    if (site.lampZ <= 0 || site.irradiance <= 0) return 0
    return film * topLobe(site, lamp.wide ? lamp : null, lay.variance, lay.index, this.#reflect)
  }

  #underRoom(set: number, room: Surround, scattering: boolean, out: Float64Array): void {
    const { sets, lay } = this.#ground
    const site = this.#site
    const apart = this.#apart
    const tables = printFor(site, sets, set)
    // The eye's mirror direction: as good as the same place there and back.
    apart.cover.set(site.whiteCover)
    apart.straight.set(site.whiteStraight)
    apart.together = 1
    apart.film = this.#eyeFilms * this.#eyeFilms
    const slant = 2 * apart.eyeSlant
    const image = roomImage(site, room)
    if (this.#onBoard) {
      if (site.metal > 0) addRoomInMetal(site, tables, room, out)
      const shine = image * (1 - site.eyeLeaving)
      for (let c = 0; c < 3; c++) this.#extra[c] = shine * tables.white[c]!
      this.#underLeaves(tables, slant, this.#extra, out)
    }
    const front = this.#eyeFront * this.#eyeFront
    const films = white(site) ? this.#behind(front) : apart.film
    if (scattering) addRoomScattered(site, tables, room, films, out)
    if (this.#onWhite && lay.white.film > 0) {
      this.#throughInks(tables, slant, this.#ink)
      const shine = front * lay.white.film * this.#reflect(site.eyeZ, lay.index) * image
      for (let c = 0; c < 3; c++) out[c]! += shine * this.#ink[c]! * tables.white[c]!
    }
    if (!this.#onInks || lay.inks.film === 0) return
    this.#backed = this.#whiteBehind()
    const shine = lay.inks.film * this.#reflect(site.eyeZ, lay.index) * image
    this.#backed = 0
    for (let c = 0; c < 3; c++) out[c]! += shine * tables.white[c]!
  }

  /** What the inks of the print in use leave of straight white light, X, Y, Z. */
  #throughInks(tables: Tables, slant: number, out: Float64Array): void {
    const site = this.#site
    if (site.print.blank) {
      out.fill(1)
      return
    }
    plainMirror(site, (slant - slants[0]) / (slants[1] - slants[0]), out)
    for (let c = 0; c < 3; c++) out[c] = Math.max(0, out[c]! / tables.orderZero.data[c]!)
  }

  /** What of the front film's loss counts for the white: none while it lies on the film's own back. */
  #behind(front: number): number {
    const { contact } = this.#ground.lay
    return contact + (1 - contact) * front
  }

  #whiteBehind(): number {
    let left = 1
    for (const cover of this.#site.whiteCover) left *= 1 - cover
    return this.#ground.lay.contact * (1 - left)
  }

  /** Part that passes the film of a leaf. */
  #passing({ film }: LaidLeaf, cos: number): number {
    return film === 0 ? 1 : 1 - film * this.#reflect(cos, this.#ground.lay.index)
  }

  /** Finds what the ray from the board to a lamp's middle crosses; returns what the films let through. */
  #wayFrom(x: number, y: number, light: Light, i: number, level: number, tables: Tables): number {
    const { lay, sampler } = this.#ground
    const [mx, my, mz] = light.lamps[i]!.middle
    const crossed = this.#toBoard
    const apart = this.#apart
    const dx = mx - x
    const dy = my - y
    const cos = mz / Math.sqrt(dx * dx + dy * dy + mz * mz)
    let films = 1
    crossed.on = false
    crossed.whites.fill(0)
    crossed.unevenness = 0
    apart.together = 0
    if (mz > lay.white.height) {
      const part = lay.white.height / mz
      const wx = x + part * dx
      const wy = y + part * dy
      sampler.whites(lay.white, wx, wy, level, crossed)
      if (crossed.on) films *= this.#passing(lay.white, cos)
      const ox = (wx - this.#whiteX) / dotMm
      const oy = (wy - this.#whiteY) / dotMm
      apart.together = Math.exp(-ox * ox - oy * oy)
    }
    layWhites(crossed.whites, crossed.unevenness, tables, apart.cover, this.#lampScatter, apart.straight)
    crossed.inks.fill(0)
    crossed.spots.fill(0)
    if (mz > lay.inks.height) {
      const part = lay.inks.height / mz
      sampler.inks(lay.inks, x + part * dx, y + part * dy, level, crossed)
      if (crossed.on) films *= this.#passing(lay.inks, cos)
    }
    return films
  }

  /** Finds the inks that the ray from a place of the white to a lamp's middle crosses; returns what their film lets through. */
  #inksOver(x: number, y: number, i: number, level: number): number {
    const { lay, sampler } = this.#ground
    const [mx, my, mz] = this.#overWhite.lamps[i]!.middle
    const crossed = this.#toWhite
    crossed.inks.fill(0)
    crossed.spots.fill(0)
    const height = lay.inks.height - lay.white.height
    if (mz <= height) return 1
    const part = height / mz
    const dx = mx - x
    const dy = my - y
    sampler.inks(lay.inks, x + part * dx, y + part * dy, level, crossed)
    return crossed.on ? this.#passing(lay.inks, mz / Math.sqrt(dx * dx + dy * dy + mz * mz)) : 1
  }
}

/** Brings a print of two crossings up to date with the farther one. */
function join(both: Print, far: Print, { inks, spots }: Crossed, tables: Tables): void {
  setPrint(far, inks, spots, tables)
  joinPrints(both)
}

function white({ whites }: Site): boolean {
  for (let i = 0; i < whites.length; i++) if (whites[i]! > 0) return true
  return false
}

/** The same light with another plane as z = 0. */
function raised(light: Light, height: number): Light {
  return {
    ...light,
    eyeZ: light.eyeZ - height,
    lamps: light.lamps.map(lamp => ({
      ...lamp,
      middle: [lamp.middle[0], lamp.middle[1], lamp.middle[2] - height] as const,
    })),
  }
}
