import { BadInput } from '../base/finding.ts'
import { mostViews } from '../effects/view-image.ts'
import { sinusoid } from '../optics/groove.ts'
import { type Grating, kappaScale, type MaterialMap, type Stack, spreadScale } from './map.ts'
import { unevennessOf } from './mottle.ts'
import { PlaneReader } from './plane.ts'
import { emptyViewGrating, ViewReader } from './views.ts'

type Writable<T> = { -readonly [K in keyof T]: T[K] }

/** A stack that is written over from pixel to pixel. `gratings` counts only those that are there. */
export interface StackBuffer {
  metal: number
  readonly gratings: Writable<Grating>[]
  readonly whites: Writable<Stack['whites'][number]>[]
  readonly cmyk: [number, number, number, number]
  readonly spots: Writable<Stack['spots'][number]>[]
  varnish: number
  unevenness: number
}

/** Reads a map pixel by pixel. One reader may fill many buffers of its own making. */
export interface MapReader {
  /** A buffer that fits this map. */
  buffer(): StackBuffer
  /** What lies at a pixel inside the map, column from the left, row from the top; returns `out`. */
  sampleInto(column: number, row: number, out: StackBuffer): StackBuffer
}

/**
 * The stack at a place of the panel, the pixel that it lies in.
 * @param xMm  from the left edge, 0..widthMm
 * @param yMm  from the lower edge, 0..heightMm
 * Throws BadInput outside the panel.
 */
export function stackAt(map: MaterialMap, xMm: number, yMm: number): Stack {
  const column = Math.floor((xMm / map.widthMm) * map.width)
  const row = Math.floor((1 - yMm / map.heightMm) * map.height)
  const inside = xMm >= 0 && xMm <= map.widthMm && yMm >= 0 && yMm <= map.heightMm
  if (!inside)
    throw new BadInput(
      'outside-panel',
      'place',
      `x ${xMm} mm, y ${yMm} mm`,
      `expected x 0..${map.widthMm} and y 0..${map.heightMm}`,
      'Choose a place on the panel, measured from its lower left corner.',
    )
  const reader = mapReader(map)
  return reader.sampleInto(
    Math.min(map.width - 1, column),
    Math.min(map.height - 1, Math.max(0, row)),
    reader.buffer(),
  )
}

export function mapReader(map: MaterialMap): MapReader {
  const plane = (name: string | null) =>
    new PlaneReader(name === null ? undefined : map.planes.get(name), map.width)
  const metal = plane('metal')
  const inks = ['C', 'M', 'Y', 'K'].map(plane)
  const whites = map.whites.map(white => plane(white.coverage))
  const spots = map.spots.map(spot => plane(spot.coverage))
  const varnish = plane(map.varnish)
  const mottle = plane('mottle')
  const gratings = map.gratings.map(channel => ({
    kappa: plane(channel.kappa),
    spread: plane(channel.spread),
    relief: plane(channel.relief),
  }))
  const views = new ViewReader(map)
  const view = emptyViewGrating()
  const mostSlots = map.gratings.length + (map.viewSets?.length ? mostViews : 0)
  // Gratings of a buffer come and go with the pixel; the objects are kept here.
  const kept = new WeakMap<StackBuffer, readonly Writable<Grating>[]>()

  const buffer = (): StackBuffer => {
    const stack: StackBuffer = {
      metal: 0,
      gratings: [],
      whites: map.whites.map(({ opacity, hits, screen = 'dots', mottle = 0 }) => ({
        coverage: 0,
        opacity,
        hits,
        screen,
        mottle,
      })),
      cmyk: [0, 0, 0, 0],
      spots: map.spots.map(({ lab, spectrum = null }) => ({ coverage: 0, lab, spectrum })),
      varnish: 0,
      unevenness: 0,
    }
    kept.set(stack, Array.from({ length: mostSlots }, emptyGrating))
    return stack
  }

  const sampleInto = (column: number, row: number, out: StackBuffer): StackBuffer => {
    out.metal = part(metal, column, row)
    for (let i = 0; i < 4; i++) out.cmyk[i] = part(inks[i]!, column, row)
    for (let i = 0; i < whites.length; i++) out.whites[i]!.coverage = part(whites[i]!, column, row)
    for (let i = 0; i < spots.length; i++) out.spots[i]!.coverage = part(spots[i]!, column, row)
    out.varnish = part(varnish, column, row)
    const uneven = mottle.at(column, row)
    out.unevenness = uneven < 0 ? 0 : unevennessOf(mottle.data[uneven]!)
    const slots = kept.get(out)
    if (!slots) throw new TypeError('sampleInto: expected a buffer of this reader')
    let count = 0
    for (let i = 0; i < gratings.length; i++) {
      const { kappa, spread, relief } = gratings[i]!
      const at = kappa.at(column, row)
      if (at < 0) continue
      const height = relief.at(column, row)
      const share = relief.data[height + 1]!
      const kx = kappa.data[at]! / kappaScale
      const ky = kappa.data[at + 1]! / kappaScale
      const size = Math.hypot(kx, ky)
      if (share === 0 || size === 0) continue
      const slot = slots[count]!
      slot.pitch = 1000 / size
      slot.azimuth = Math.atan2(ky, kx)
      slot.grooveDepth = relief.data[height]!
      slot.groove = map.grooves[relief.data[height + 2]!]!
      slot.share = share / 255
      slot.spreadAlong = spread.data[at]! / spreadScale / 1000
      slot.spreadAcross = spread.data[at + 1]! / spreadScale / 1000
      slot.spreadCovariance = 0
      slot.view = 0
      out.gratings[count++] = slot
    }
    const many = views.open(column, row)
    for (let i = 0; i < many; i++) {
      const share = views.share(i)
      if (share === 0) continue
      const slot = slots[count]!
      const { gx, gy, k, along, across, covariance } = views.grating(i, view)
      slot.pitch = 1 / k
      slot.azimuth = Math.atan2(gy, gx)
      slot.grooveDepth = views.set!.grooveDepth
      slot.groove = map.grooves[views.set!.groove]!
      slot.share = share
      slot.spreadAlong = along
      slot.spreadAcross = across
      slot.spreadCovariance = covariance
      slot.view = i + 1
      out.gratings[count++] = slot
    }
    out.gratings.length = count
    return out
  }
  return { buffer, sampleInto }
}

/** A plane of 0..255 as 0..1. */
function part(plane: PlaneReader, column: number, row: number): number {
  const at = plane.at(column, row)
  return at < 0 ? 0 : plane.data[at]! / 255
}

function emptyGrating(): Writable<Grating> {
  return {
    pitch: 0,
    azimuth: 0,
    grooveDepth: 0,
    groove: sinusoid,
    share: 0,
    spreadAlong: 0,
    spreadAcross: 0,
    spreadCovariance: 0,
    view: 0,
  }
}
