import {
  type GratingChannel,
  kappaScale,
  type MapPlane,
  type MaterialMap,
  type Stack,
  spreadScale,
} from '../../core/material/map.ts'

import { mottlePlane } from '../../core/material/mottle.ts'
import { type Groove, grooveIndex } from '../../core/optics/groove.ts'

/** What a painted map has everywhere: how many of each, and what holds for a whole plate. */
export interface PaintPlan {
  readonly size: number
  readonly sideMm: number
  readonly gratings: number
  readonly whites: readonly Omit<Stack['whites'][number], 'coverage'>[]
  readonly spots: readonly (readonly [number, number, number])[]
  readonly varnish: boolean
}

export type PaintStack = Partial<Omit<Stack, 'whites' | 'spots'>> & {
  readonly whites?: readonly number[]
  readonly spots?: readonly number[]
}

/** A square map painted by a function of place, −1..1 from the middle, x right, y up. Quantized as the map's own types say. */
export function paintMap(plan: PaintPlan, paint: (x: number, y: number) => PaintStack): MaterialMap {
  const { size } = plan
  const planes = new Map<string, MapPlane>()
  const plane = <T extends Uint8Array | Uint16Array | Int16Array>(
    name: string,
    components: number,
    data: T,
  ): T => {
    planes.set(name, { layout: 'full', components, data })
    return data
  }
  const bytes = (name: string, components = 1) =>
    plane(name, components, new Uint8Array(size * size * components))
  const metal = bytes('metal')
  const inks = (['C', 'M', 'Y', 'K'] as const).map(name => bytes(name))
  const varnish = bytes('varnish')
  const whites = plan.whites.map((_, i) => bytes(`white ${i}`))
  if (plan.whites.some(white => (white.mottle ?? 0) > 0))
    plane(
      'mottle',
      1,
      mottlePlane({ width: size, height: size, widthMm: plan.sideMm, heightMm: plan.sideMm }),
    )
  const spots = plan.spots.map((_, i) => bytes(`spot ${i}`))
  const channels: GratingChannel[] = []
  const grooves: Groove[] = []
  const gratings = Array.from({ length: plan.gratings }, (_, i) => {
    const names = { name: `grating ${i}`, kappa: `kappa ${i}`, spread: `spread ${i}`, relief: `relief ${i}` }
    channels.push(names)
    return {
      kappa: plane(names.kappa, 2, new Int16Array(size * size * 2)),
      spread: plane(names.spread, 2, new Uint16Array(size * size * 2)),
      relief: bytes(names.relief, 4),
    }
  })
  const byte = (v: number) => Math.round(255 * Math.min(1, Math.max(0, v)))
  for (let row = 0; row < size; row++)
    for (let column = 0; column < size; column++) {
      const at = row * size + column
      const s = paint(((column + 0.5) / size) * 2 - 1, 1 - ((row + 0.5) / size) * 2)
      metal[at] = byte(s.metal ?? 1)
      inks.forEach((ink, i) => {
        ink[at] = byte(s.cmyk?.[i] ?? 0)
      })
      varnish[at] = byte(s.varnish ?? 0)
      whites.forEach((white, i) => {
        white[at] = byte(s.whites?.[i] ?? 0)
      })
      spots.forEach((spot, i) => {
        spot[at] = byte(s.spots?.[i] ?? 0)
      })
      gratings.forEach((channel, i) => {
        const g = s.gratings?.[i]
        if (g === undefined) return
        const kappa = 1000 / g.pitch
        channel.kappa[2 * at] = Math.round(kappa * Math.cos(g.azimuth) * kappaScale)
        channel.kappa[2 * at + 1] = Math.round(kappa * Math.sin(g.azimuth) * kappaScale)
        channel.spread[2 * at] = Math.round(1000 * g.spreadAlong * spreadScale)
        channel.spread[2 * at + 1] = Math.round(1000 * g.spreadAcross * spreadScale)
        channel.relief.set(
          [Math.round(g.grooveDepth), byte(g.share), grooveIndex(grooves, g.groove), 0],
          4 * at,
        )
      })
    }
  return {
    width: size,
    height: size,
    pixelsPerMm: size / plan.sideMm,
    widthMm: plan.sideMm,
    heightMm: plan.sideMm,
    planes,
    whites: plan.whites.map((w, i) => ({ name: `white ${i}`, coverage: `white ${i}`, assumed: false, ...w })),
    spots: plan.spots.map((lab, i) => ({ name: `spot ${i}`, coverage: `spot ${i}`, lab })),
    varnish: plan.varnish ? 'varnish' : null,
    gratings: channels,
    grooves,
    areas: [{ id: 0, name: '', layerId: '', effect: '' }],
  }
}
