import type { OutlinePath } from '../core/art/layer.ts'
import { type PsdGroup, type PsdLayer, type PsdMask, solidFillBlock } from '../tests/support/psd-write.ts'
import { addBarcode } from './barcode.ts'
import {
  chartRadius,
  figureLines,
  figureNames,
  grid,
  hourScale,
  lensRadius,
  lensRings,
  milkyWay,
  pole,
  starDiscs,
  starRays,
} from './chart.ts'
import { glow, tail, tailColor } from './comet.ts'
import { type Ink, inkLayer, stored } from './ink.ts'
import { addText, type Line } from './lettering.ts'
import { detailLines, titleLines } from './lines.ts'
import {
  addBox,
  addRing,
  blank,
  type Cover,
  height,
  heightMm,
  mix,
  smooth,
  width,
  widthMm,
  xOf,
  yOf,
} from './page.ts'
import { clouds, skyInk } from './sky.ts'
import { circlePath, cutPath, dieline, legend, notch, roundBoxPath } from './technical.ts'

/** The layered art, bottom to top, and its white plate. */
export interface DemoArt {
  readonly layers: readonly (PsdLayer | PsdGroup)[]
  /** Coverage of the white plate, 0..1. */
  readonly white: Cover
  /** Cutting outline of the panel. */
  readonly cut: OutlinePath
}

const none: Ink = [0, 0, 0, 0]
const pale: Ink = [0.34, 0.08, 0, 0]
const dark: Ink = [1, 0.85, 0.2, 0.6]
/** Technical lines: a colour that no art uses. */
const technical: Ink = [0, 1, 0, 0]
/** The white patch of the bar code, mm: left, bottom, right, top. */
export const patch = [61, 5.9, 94.5, 17.8] as const

/** @returns also the tones of the white plate, without what of it is solid and drawn */
export function drawArt(): DemoArt & { readonly whiteTones: Cover } {
  const shapes = drawShapes()
  const { rings, tailShare, rays, discs, lines, milky, title, names, gridLines, halo, core } = shapes
  const bare = blank().map((_, i) =>
    Math.min(1, Math.max(rings[i]!, tailShare[i]! * 0.96, rays[i]!, lines[i]!, milky[i]! * 0.6)),
  )
  const sky: PsdGroup = {
    name: 'Night sky',
    mask: hiding(bare),
    children: [
      inkLayer('Sky', full(), skyInk, { blend: 'mul ' }),
      inkLayer('Clouds', clouds(), [0.1, 0.62, 0, 0], { blend: 'mul ', opacity: 0.7 }),
      {
        ...inkLayer('Chart disc', disc(chartRadius + 1), [0.6, 0.35, 0, 0.34]),
        blend: 'mul ',
        opacity: 0.75,
        vectorMask: { paths: [circlePath(pole, chartRadius)] },
      },
    ],
  }
  const overprint: PsdGroup = {
    name: 'Overprint',
    children: [
      sky,
      inkLayer('Lens coating', lensTint(), lensInk, { blend: 'mul ', opacity: 0.8 }),
      {
        name: 'Star chart',
        children: [
          inkLayer('Hour lines', gridLines, pale, { opacity: 0.6 }),
          inkLayer('Hour scale', hourScale(), dark),
          inkLayer('Figure names', names, pale),
          inkLayer('Stars', discs, none),
        ],
      },
      {
        name: 'Comet',
        children: [
          inkLayer('Comet halo', halo, [0.22, 0.02, 0, 0], { opacity: 0.8 }),
          inkLayer('Comet core', core, [0, 0, 0.1, 0]),
        ],
      },
      {
        name: 'Lettering',
        children: [
          inkLayer('Title', title, none),
          inkLayer('Details', lettered(detailLines), [0.12, 0.02, 0, 0]),
        ],
      },
      {
        name: 'Bar code',
        children: [
          {
            ...inkLayer('Code patch', box(...patch, 1.2), none),
            vectorMask: { paths: [roundBoxPath(patch, 1.2)] },
            blocks: [solidFillBlock({ space: 'CMYK', values: none })],
          },
          inkLayer('Bars', bars(), [0, 0, 0, 1]),
        ],
      },
    ],
  }
  const holography: PsdGroup = {
    name: 'Holography',
    children: [
      inkLayer('Holo Milky Way', milky, [0.1, 0.06, 0, 0]),
      inkLayer('Holo lines', lines, [0, 0, 0, 0.06]),
      inkLayer('Holo lens rings', rings, ringInk),
      inkLayer('Holo comet tail', tailShare, tailColor),
      inkLayer('Holo star rays', rays, [0, 0, 0, 0]),
    ],
  }
  return {
    layers: [
      inkLayer('Substrate metallised board', full(), [0, 0, 0, 0.14]),
      holography,
      overprint,
      inkLayer('Legend', legend(), technical),
      inkLayer('Dieline', dieline(), technical),
    ],
    ...whitePlate(shapes, bare),
    cut: cutPath(),
  }
}

type Shapes = ReturnType<typeof drawShapes>

function drawShapes() {
  return {
    rings: lensRings(),
    tailShare: tail(),
    rays: starRays(),
    discs: starDiscs(),
    lines: frameAndFigures(),
    milky: milkyWay(),
    title: lettered(titleLines),
    names: figureNames(),
    gridLines: grid(),
    halo: glow(0.8, 5.2),
    core: glow(0.9, 1.9),
  }
}

/** White: solid under lettering, code and stars; half under the comet's head; rising from nothing to most at the foot. */
function whitePlate(shapes: Shapes, bare: Cover): { readonly white: Cover; readonly whiteTones: Cover } {
  const { title, names, discs, gridLines, halo, core } = shapes
  const code = box(...patch, 1.2)
  const small = lettered(detailLines)
  const whiteTones = blank().map((_, i) => {
    const ground = 0.86 * smooth(32, 4, yOf(i)) * (1 - bare[i]!)
    const head = halo[i]! > 0.02 ? 0.5 * smooth(0.02, 0.3, halo[i]!) : 0
    return Math.max(ground, head, core[i]!, gridLines[i]! * 0.6)
  })
  const white = whiteTones.map((tone, i) =>
    Math.max(tone, title[i]!, small[i]!, names[i]!, discs[i]!, code[i]!),
  )
  return { white, whiteTones }
}

function lettered(lines: readonly Line[]): Cover {
  const cover = blank()
  for (const line of lines) addText(cover, line)
  return cover
}

function bars(): Cover {
  const cover = blank()
  addBarcode(cover, patch[0] + 4.45, 9.75, 0.27, 6.7)
  return cover
}

function frameAndFigures(): Cover {
  const cover = figureLines()
  const frame = blank()
  addBox(frame, [3.4, 3.4, widthMm - 3.4, heightMm - 3.4], 3, 0.3)
  return cover.map((share, i) =>
    Math.max(
      share,
      frame[i]! * smooth(notch.r + 2, notch.r + 3, Math.hypot(xOf(i) - notch.x, yOf(i) - heightMm)),
    ),
  )
}

/** Clear purple in the middle to green at the rim: the bloom of a coated lens. */
function lensInk(i: number): Ink {
  const r = Math.hypot(xOf(i) - pole[0] + 1.5, yOf(i) - pole[1] - 2) / lensRadius
  return [
    mix(0.3, 0.42, smooth(0, 1, r)),
    mix(0.46, 0.06, smooth(0.2, 1.1, r)),
    mix(0, 0.3, smooth(0.5, 1.2, r)),
    0,
  ]
}

function lensTint(): Cover {
  return disc(lensRadius)
}

/** How a designer hints at rings that turn with the light: bright and dark spokes in grey. */
function ringInk(i: number): Ink {
  const a = Math.atan2(yOf(i) - pole[1], xOf(i) - pole[0])
  return [0, 0, 0, 0.22 + 0.16 * Math.cos(2 * a - 1.2) + 0.05 * Math.cos(6 * a)]
}

const full = (): Cover => blank().fill(1)

function disc(r: number): Cover {
  const cover = blank()
  addRing(cover, pole, 0, r)
  return cover
}

function box(x0: number, y0: number, x1: number, y1: number, corner = 0.01): Cover {
  const cover = blank()
  addBox(cover, [x0, y0, x1, y1], corner)
  return cover
}

/** A mask that hides a layer where `bare` is 1. */
function hiding(bare: Cover): PsdMask {
  return {
    box: { left: 0, top: 0, right: width, bottom: height },
    data: Uint8Array.from(bare, share => stored(share)),
    outside: 255,
  }
}
