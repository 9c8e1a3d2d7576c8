import type { ArtFile, OutlinePath, VectorMask } from '../../../../core/art/layer.ts'
import { plainMask } from '../../../../core/art/plain-layer.ts'
import type { CheckInput } from '../../../../core/checks/input.ts'
import { shadedLuminances } from '../../../../core/checks/legibility/shaded.ts'
import type { HeldView } from '../../../../core/checks/legibility/view.ts'
import type { MaterialMap } from '../../../../core/material/map.ts'
import { bakeTables } from '../../../../core/optics/bake.ts'
import { sinusoid } from '../../../../core/optics/groove.ts'
import type { Grating } from '../../../../core/optics/matter.ts'
import { bakingsOf } from '../../../../core/reference/baking.ts'
import type { LampPose, PanelPose, Scene } from '../../../../core/reference/scene.ts'
import type { Assigned, RoleName } from '../../../../core/roles/role.ts'
import { type PaintPlan, type PaintStack, paintMap } from '../../../support/paint-map.ts'
import { oneLamp, sceneFor } from '../../../support/scene.ts'
import { type PaintedLayer, paintedFile } from '../../painted.ts'

/** A label of 20 × 20 mm, 305 ppi: a pixel of the art is one of the map. */
export const sideMm = 20
export const pixels = 240
const pixelMm = sideMm / pixels

export const groove: Grating = {
  pitch: 1000,
  azimuth: Math.PI / 2,
  grooveDepth: 90,
  groove: sinusoid,
  share: 0.8,
  spreadAlong: 2e-5,
  spreadAcross: 2e-5,
}

/** Capitals of five by seven cells, as wide strokes as cells. */
const capitals: Readonly<Record<string, readonly string[]>> = {
  H: ['#...#', '#...#', '#...#', '#####', '#...#', '#...#', '#...#'],
  L: ['#....', '#....', '#....', '#....', '#....', '#....', '#####'],
  E: ['#####', '#....', '#....', '####.', '#....', '#....', '#####'],
  N: ['#...#', '##..#', '#.#.#', '#.#.#', '#..##', '#...#', '#...#'],
  S: ['.####', '#....', '#....', '.###.', '....#', '....#', '####.'],
}

export interface BlockText {
  readonly word: string
  /** Mm from the lower left of the label to that of the word; side of a cell. */
  readonly xMm: number
  readonly yMm: number
  readonly cellMm: number
}

/** Whether a place, mm, y up, is inside a letter. */
export function inBlocks({ word, xMm, yMm, cellMm }: BlockText, x: number, y: number): boolean {
  const column = Math.floor((x - xMm) / cellMm)
  const row = 6 - Math.floor((y - yMm) / cellMm)
  if (column < 0 || row < 0 || row > 6 || column % 6 === 5) return false
  return capitals[word[Math.floor(column / 6)] ?? '']?.[row]?.[column % 6] === '#'
}

/** Middle of a pixel of the art, mm, y up. */
export const middleOf = (column: number, row: number): readonly [x: number, y: number] => [
  (column + 0.5) * pixelMm,
  sideMm - (row + 0.5) * pixelMm,
]

/** A text layer of blocks in the art. */
export function textLayer(name: string, text: BlockText, more: Partial<PaintedLayer> = {}): PaintedLayer {
  const width = (6 * text.word.length - 1) * text.cellMm
  const box = {
    left: Math.floor(text.xMm / pixelMm),
    right: Math.ceil((text.xMm + width) / pixelMm),
    top: Math.floor((sideMm - text.yMm - 7 * text.cellMm) / pixelMm),
    bottom: Math.ceil((sideMm - text.yMm) / pixelMm),
  }
  return {
    name,
    kind: 'text',
    text: { value: text.word, boxMm: null },
    box,
    paint: (x, y) => [0, 0, 0, 1, inBlocks(text, ...middleOf(x, y)) ? 1 : 0],
    ...more,
  }
}

/** Rectangles as a vector mask, mm from the lower left. */
export function rectangles(
  boxes: readonly (readonly [left: number, bottom: number, right: number, top: number])[],
): VectorMask {
  const paths = boxes.map(([left, bottom, right, top]): OutlinePath => {
    const corners = [
      [left, bottom],
      [right, bottom],
      [right, top],
      [left, top],
    ] as const
    return {
      closed: true,
      continues: false,
      combine: 'unite',
      knots: corners.map(at => ({ in: at, at, out: at })),
    }
  })
  return plainMask(paths)
}

const plan: PaintPlan = {
  size: pixels,
  sideMm,
  gratings: 1,
  whites: [{ opacity: 0.95, hits: 2 }],
  spots: [],
  varnish: false,
}

/** Art and map of a label: `paint` says what is printed at a place, mm, y up. */
export function label(
  layers: readonly PaintedLayer[],
  paint: (x: number, y: number) => PaintStack,
  more: { readonly role?: RoleName; readonly scene?: Scene } = {},
): CheckInput {
  // The document's own millimetres are those of the label.
  const painted = paintedFile({ width: pixels, height: pixels, layers })
  const file: ArtFile = { ...painted, art: { ...painted.art, resolutionPpi: (pixels / sideMm) * 25.4 } }
  const map = paintMap(plan, (u, v) => paint(((u + 1) / 2) * sideMm, ((v + 1) / 2) * sideMm))
  const scene = more.scene ?? usualScene
  return {
    art: file.art,
    file,
    assigned: layers.map(({ name }) => assigned(name, more.role ?? 'overprint')),
    map,
    scene,
    sets: setsOf(scene, map),
    blank: null,
    corners: new Map(),
    limits: {},
  }
}

/** Tables of all labels under the usual spectrum: they differ by the grooves alone. */
const baked = new Map<number, CheckInput['sets']>()

function setsOf(scene: Scene, map: MaterialMap): CheckInput['sets'] {
  const known = baked.get(map.grooves.length)
  const sets = known ?? bakingsOf(scene, map).map(bakeTables)
  baked.set(map.grooves.length, sets)
  return sets
}

const assigned = (id: string, role: RoleName): Assigned => ({
  target: { kind: 'layer', id },
  role,
  reason: 'set by you',
  by: 'job',
  amount: { from: 'alpha' },
  askAmount: false,
  amountReason: '',
})

export const lamp: LampPose = { azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 40 }
export const usualScene: Scene = sceneFor(oneLamp(lamp, 0.1))

/** A coarse grid of views: every tilt in every direction, by solid angle. */
export function coarseViews(light: Scene['light']): readonly HeldView[] {
  const views: HeldView[] = []
  for (let tilt = -60; tilt <= 60; tilt += 10)
    for (let turnDeg = 0; turnDeg < 360; turnDeg += 30)
      views.push({
        pose: held(tilt, turnDeg),
        light,
        weight: Math.sin((Math.abs(tilt) * Math.PI) / 180) + 0.02,
      })
  return views
}

export const held = (tiltForwardDeg: number, turnDeg: number, tiltSideDeg = 0): PanelPose => ({
  tiltForwardDeg,
  tiltSideDeg,
  turnDeg,
})

export const needsOf = (input: CheckInput, views = coarseViews(input.scene.light)) => ({
  views,
  luminances: shadedLuminances(input.scene, input.map, input.sets),
  marked: [],
})
