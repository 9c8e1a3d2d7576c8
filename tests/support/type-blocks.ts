import type { CheckInput } from '../../core/checks/input.ts'
import { bakeTables } from '../../core/optics/bake.ts'
import { sinusoid } from '../../core/optics/groove.ts'
import type { Grating } from '../../core/optics/matter.ts'
import { bakingsOf } from '../../core/reference/baking.ts'
import { type BlockText, inBlocks } from '../core/checks/legibility/fixture.ts'
import { type PaintedLayer, paintedFile } from '../core/painted.ts'
import { type PaintStack, paintMap } from './paint-map.ts'
import { oneLamp, sceneFor } from './scene.ts'

const sideMm = 100
const size = 1181
const pixelMm = sideMm / size

/** Rings around the middle: no two pixels have the same grooves. */
function rings(x: number, y: number): Grating {
  return {
    pitch: 1050,
    azimuth: Math.atan2(y - sideMm / 2, x - sideMm / 2),
    grooveDepth: 80,
    groove: sinusoid,
    share: 0.9,
    spreadAlong: 2e-5,
    spreadAcross: 2e-5,
  }
}

type Print = (x: number, y: number, ink: boolean) => PaintStack
const K = (share: number) => [0, 0, 0, share] as const

/** Type as it is printed on foil, one way after the other. */
const prints: readonly Print[] = [
  (x, y, ink) => ({ gratings: [rings(x, y)], whites: [1], cmyk: K(ink ? 1 : 0) }),
  (x, y, ink) => ({ gratings: [rings(x, y)], cmyk: K(ink ? 1 : 0) }),
  (x, y, ink) => ({ gratings: [rings(x, y)], whites: [ink ? 0 : 1] }),
  (x, y, ink) => ({ gratings: [rings(x, y)], whites: [ink ? 1 : 0], cmyk: ink ? K(0) : [1, 0.8, 0, 0.2] }),
  (_x, _y, ink) => ({ cmyk: ink ? [1, 0.6, 0, 0.3] : K(0) }),
]

/** A carton of 300 ppi with lines of type in five columns, each row printed in another way. */
export function typeBlocks(count: number): CheckInput {
  const pitchMm = sideMm / Math.ceil(count / 5)
  const texts = Array.from(
    { length: count },
    (_, i): BlockText => ({
      word: 'HELLENSHELLENS',
      xMm: 2 + (i % 5) * 19.4,
      yMm: 2 + Math.floor(i / 5) * pitchMm,
      cellMm: 0.2,
    }),
  )
  const layers = texts.map(layerOf)
  const file = paintedFile({ width: size, height: size, layers })
  const art = { ...file.art, resolutionPpi: 25.4 / pixelMm }
  const map = paintMap(
    {
      size,
      sideMm,
      gratings: 1,
      whites: [{ opacity: 0.8, hits: 1 }],
      spots: [],
      varnish: false,
    },
    (u, v) => {
      const [x, y] = [((u + 1) / 2) * sideMm, ((v + 1) / 2) * sideMm]
      const row = Math.min(Math.ceil(count / 5) - 1, Math.floor(y / pitchMm))
      const column = Math.min(4, Math.floor(x / 20))
      const text = texts[5 * row + column]
      return prints[row % prints.length]!(x, y, text !== undefined && inBlocks(text, x, y))
    },
  )
  const scene = sceneFor(oneLamp({ azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 40 }, 0.1))
  return {
    art,
    file: { ...file, art },
    assigned: layers.map(({ name }) => ({
      target: { kind: 'layer', id: name },
      role: 'overprint',
      reason: 'set by you',
      by: 'job',
      amount: { from: 'alpha' },
      askAmount: false,
      amountReason: '',
    })),
    map,
    scene,
    sets: bakingsOf(scene, map).map(bakeTables),
    blank: null,
    corners: new Map(),
    limits: {},
  }
}

function layerOf(text: BlockText, i: number): PaintedLayer {
  const right = text.xMm + (6 * text.word.length - 1) * text.cellMm
  return {
    name: `Line ${i + 1}`,
    kind: 'text',
    text: { value: text.word, boxMm: null },
    box: {
      left: Math.floor(text.xMm / pixelMm),
      right: Math.ceil(right / pixelMm),
      top: Math.floor((sideMm - text.yMm - 7 * text.cellMm) / pixelMm),
      bottom: Math.ceil((sideMm - text.yMm) / pixelMm),
    },
    paint: (column, row) => [
      ...K(1),
      inBlocks(text, (column + 0.5) * pixelMm, sideMm - (row + 0.5) * pixelMm) ? 1 : 0,
    ],
  }
}
