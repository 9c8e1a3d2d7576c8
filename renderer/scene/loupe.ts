import { displayColor, displayTransform } from '../../core/color/display.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import type { Stack } from '../../core/optics/matter.ts'
import type { Tables } from '../../core/optics/tables.ts'
import { sceneWhite } from '../../core/reference/baking.ts'
import { sceneOnLeaf } from '../../core/reference/on-leaf.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { totalLux } from '../../core/reference/scene.ts'
import { stackSeen } from '../../core/reference/stack-seen.ts'
import { pixelOf, Sweeper } from '../../core/reference/sweep.ts'
import type { LoupePlane, LoupeView } from '../panels/probe/types.ts'
import type { SpotPlace } from './workshop.ts'

/** Pixels a side: enough to see a screen dot or the stripes of a switch, large enough to point at one. */
const side = 13

/** The map's own pixels around a spot, plane by plane; null beside the panel. */
export function loupeAt(
  scene: Scene,
  map: MaterialMap,
  sets: readonly Tables[],
  { xMm, yMm }: SpotPlace,
): LoupeView | null {
  const middle = pixelOf(map, xMm, yMm)
  if (middle === null) return null
  const places = Array.from({ length: side * side }, (_, i) => {
    const column = middle[0] + (i % side) - (side - 1) / 2
    const row = middle[1] + Math.floor(i / side) - (side - 1) / 2
    if (column < 0 || row < 0 || column >= map.width || row >= map.height) return null
    return {
      xMm: ((column + 0.5) / map.width) * map.widthMm,
      yMm: (1 - (row + 0.5) / map.height) * map.heightMm,
    }
  })
  const onLeaf = sceneOnLeaf(scene, map, xMm, yMm)
  const stacks = places.map(place =>
    place === null ? null : stackSeen(onLeaf ?? scene, map, place.xMm, place.yMm),
  )
  const transform = displayTransform(
    { ...scene.view, gamut: 'srgb' },
    sceneWhite(scene),
    totalLux(scene.light),
  )
  const color = new Float64Array(3)
  const seen: LoupePlane = {
    name: 'Seen now',
    css: places.map(place => {
      const XYZ =
        place === null || onLeaf === null ? null : new Sweeper(onLeaf, map, sets, [place]).at(scene.view.pose)
      if (XYZ === null) return null
      const [r, g, b] = displayColor(transform, ...XYZ, color)
      return `rgb(${[r, g, b].map(part => Math.round(255 * part!)).join(' ')})`
    }),
    says: stacks.map(stack => (stack === null ? 'beside the panel' : inkWords(stack))),
  }
  return {
    side,
    pixelMm: map.widthMm / map.width,
    planes: [seen, ...planes.map(({ name, css, says }) => drawn(name, css, says, stacks))],
  }
}

interface Plane {
  readonly name: string
  readonly css: (stack: Stack) => string
  readonly says: (stack: Stack) => string
}

const planes: readonly Plane[] = [
  { name: 'Metal', css: stack => grey(stack.metal), says: stack => `metal ${percent(stack.metal)}` },
  {
    name: 'Grating',
    // Direction across the grooves as a hue, share as lightness: a plane to read, not a colour to see.
    css: stack => {
      const [most] = [...stack.gratings].sort((a, b) => b.share - a.share)
      if (most === undefined || most.share === 0) return grey(0)
      return `hsl(${Math.round((2 * most.azimuth * 180) / Math.PI) % 360} 60% ${Math.round(20 + 45 * most.share)}%)`
    },
    says: stack =>
      stack.gratings.length === 0
        ? 'no grating'
        : stack.gratings
            .map(
              one =>
                `${Math.round(one.pitch)} nm, ${Math.round(halfTurn((one.azimuth * 180) / Math.PI))}°, share ${percent(one.share)}`,
            )
            .join('; '),
  },
  {
    name: 'White',
    css: stack => grey(1 - stack.whites.reduce((left, white) => left * (1 - white.coverage), 1)),
    says: stack =>
      stack.whites.length === 0
        ? 'no white'
        : stack.whites.map(white => `white ${percent(white.coverage)}`).join(', '),
  },
  {
    name: 'Inks',
    css: ({ cmyk: [c, m, y, k] }) =>
      `rgb(${[c, m, y].map(ink => Math.round(255 * (1 - ink) * (1 - k))).join(' ')})`,
    says: inkWords,
  },
]

function drawn(
  name: string,
  css: Plane['css'],
  says: Plane['says'],
  stacks: readonly (Stack | null)[],
): LoupePlane {
  return {
    name,
    css: stacks.map(stack => (stack === null ? null : css(stack))),
    says: stacks.map(stack => (stack === null ? 'beside the panel' : says(stack))),
  }
}

function inkWords({ cmyk, spots, varnish }: Stack): string {
  const process = ['C', 'M', 'Y', 'K'].map((ink, i) => `${ink} ${Math.round(100 * cmyk[i]!)}`).join(' ')
  const more = spots.filter(spot => spot.coverage > 0).map(spot => `spot ${percent(spot.coverage)}`)
  return [process, ...more, ...(varnish > 0 ? [`varnish ${percent(varnish)}`] : [])].join(', ')
}

const percent = (part: number): string => `${Math.round(100 * part)} %`

const grey = (part: number): string => {
  const code = Math.round(25 + 205 * part)
  return `rgb(${code} ${code} ${code})`
}

const halfTurn = (deg: number): number => ((deg % 180) + 180) % 180
