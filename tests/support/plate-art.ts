import type { OutlinePath } from '../../core/art/layer.ts'
import { type PsdLayer, writePsd } from './psd-write.ts'

/** 360 × 240 px at 300 ppi: 30.48 × 20.32 mm. */
export const plateSize = { width: 360, height: 240, ppi: 300, widthMm: 30.48, heightMm: 20.32 } as const
const { width, height } = plateSize

/** Steps of a wedge, 15 px wide; step i has `wedge[i]` of 255. */
export const stepPx = 15
export const wedge: readonly number[] = Array.from({ length: width / stepPx }, (_, i) =>
  Math.round((255 * i) / (width / stepPx - 1)),
)

/** Rows of the art in which an ink has its wedge, px. */
export const wedgeRows = {
  Cyan: [0, 40],
  Magenta: [40, 80],
  Yellow: [80, 120],
  Black: [120, 160],
  White: [160, 200],
  'Comet orange': [200, 240],
} as const
export type WedgeInk = keyof typeof wedgeRows

/** Coverage of an ink at a pixel, 255 = solid, as the art is drawn. */
export function drawn(ink: WedgeInk, x: number, y: number): number {
  const [top, bottom] = wedgeRows[ink]
  return y >= top && y < bottom ? wedge[Math.floor(x / stepPx)]! : 0
}

/** The cut, mm from the lower left corner: 3 mm of bleed left and right, 2 mm above and below; a crease in the middle. */
export const dieMm = { left: 3, bottom: 2, right: 27.48, top: 18.32, crease: 15.1 } as const

const line = (closed: boolean, ...points: readonly (readonly [number, number])[]): OutlinePath => ({
  closed,
  continues: false,
  combine: 'unite',
  knots: points.map(at => ({ in: at, at, out: at })),
})

/** The file holds 255 for no ink. */
const plane = (ink: WedgeInk): Uint8Array =>
  Uint8Array.from({ length: width * height }, (_, i) => 255 - drawn(ink, i % width, Math.floor(i / width)))
const clear = () => new Uint8Array(width * height).fill(255)

function box(name: string, id: number, [left, top, right, bottom]: readonly number[]): PsdLayer {
  const count = (right! - left!) * (bottom! - top!)
  const full = (value: number) => new Uint8Array(count).fill(value)
  return {
    name,
    id,
    box: { left: left!, top: top!, right: right!, bottom: bottom! },
    planes: { [-1]: full(255), 0: full(255), 1: full(255), 2: full(255), 3: full(0) },
  }
}

/** Where the varnish and the area of holography lie, px: left, top, right, bottom. */
export const varnishPx = [30, 60, 330, 180] as const
export const hologramPx = [90, 60, 210, 150] as const

/**
 * A carton front with a wedge in every ink: four process inks in one layer, white and a spot ink as channels, varnish
 * and holography as boxes, and a die of two saved paths.
 */
export function plateArt(): Uint8Array {
  const inks = [plane('Cyan'), plane('Magenta'), plane('Yellow'), plane('Black')]
  return writePsd({
    width,
    height,
    mode: 'CMYK',
    depth: 8,
    ppi: plateSize.ppi,
    layers: [
      box('Holo comet', 3, hologramPx),
      {
        name: 'Overprint',
        id: 4,
        box: { left: 0, top: 0, right: width, bottom: height },
        planes: {
          [-1]: new Uint8Array(width * height).fill(255),
          0: inks[0]!,
          1: inks[1]!,
          2: inks[2]!,
          3: inks[3]!,
        },
      },
      box('Varnish', 5, varnishPx),
    ],
    composite: [clear(), clear(), clear(), clear()],
    channels: [
      {
        name: 'White',
        kind: 'spot',
        ink: { space: 'CMYK', values: [0, 0, 0, 0] },
        solidity: 0.6,
        data: plane('White'),
      },
      {
        name: 'Comet orange',
        kind: 'spot',
        ink: { space: 'Lab', values: [65, 50, 70] },
        solidity: 0.1,
        data: plane('Comet orange'),
      },
    ],
    paths: [
      {
        name: 'Cut',
        clipping: false,
        paths: [
          line(
            true,
            [dieMm.left, dieMm.bottom],
            [dieMm.right, dieMm.bottom],
            [dieMm.right, dieMm.top],
            [dieMm.left, dieMm.top],
          ),
        ],
      },
      {
        name: 'Crease',
        clipping: false,
        paths: [line(false, [dieMm.crease, dieMm.bottom], [dieMm.crease, dieMm.top])],
      },
    ],
  })
}
