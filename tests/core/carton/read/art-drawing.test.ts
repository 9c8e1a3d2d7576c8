import { describe, expect, test } from 'vitest'
import type { OutlinePath } from '../../../../core/art/layer.ts'
import { readArt } from '../../../../core/art/read.ts'
import { memorySource } from '../../../../core/base/source.ts'
import type { LineKind, Point } from '../../../../core/carton/die.ts'
import { drawingOfArt } from '../../../../core/carton/read/art-drawing.ts'
import { readDie } from '../../../../core/carton/read/read-die.ts'
import {
  type PsdDoc,
  type PsdGroup,
  type PsdLayer,
  solidFillBlock,
  writePsd,
} from '../../../support/psd-write.ts'
import { codes, tuckCarton } from './drawn.ts'

/** 254 mm square at 72 ppi. */
const page = { width: 720, height: 720, ppi: 72 }
const margin = 20

const knotted = (points: readonly Point[]): OutlinePath => {
  const closed =
    points.length > 2 && points[0]![0] === points.at(-1)![0] && points[0]![1] === points.at(-1)![1]
  return {
    closed,
    continues: false,
    combine: 'unite',
    knots: (closed ? points.slice(0, -1) : points).map(([x, y]) => {
      const at = [x + margin, y + margin] as const
      return { in: at, at, out: at }
    }),
  }
}

const empty = { left: 0, top: 0, right: 0, bottom: 0 }
const shape = (name: string, kind: LineKind, more: Partial<PsdLayer> = {}): PsdLayer => ({
  name,
  box: empty,
  planes: { [-1]: new Uint8Array(0), 0: new Uint8Array(0), 1: new Uint8Array(0), 2: new Uint8Array(0) },
  blocks: [solidFillBlock({ space: 'RGB', values: [kind === 'cut' ? 1 : 0, 0, kind === 'cut' ? 0 : 1] })],
  vectorMask: {
    paths: tuckCarton()
      .filter(line => line.kind === kind)
      .map(({ points }) => knotted(points)),
  },
  ...more,
})

async function drawn(layers: readonly (PsdLayer | PsdGroup)[], more: Partial<PsdDoc> = {}) {
  const blank = new Uint8Array(page.width * page.height)
  const bytes = writePsd({
    ...page,
    mode: 'RGB',
    depth: 8,
    layers,
    composite: [blank, blank, blank],
    ...more,
  })
  const { art } = await readArt(memorySource('eyepiece.psd', bytes))
  return drawingOfArt(art)
}

describe('vector layers of the art', () => {
  test('named after what they do they make the same die as the SVG', async () => {
    const drawing = await drawn([shape('Cut lines', 'cut'), shape('Creases', 'crease')])
    const read = readDie(drawing, { caliperMm: 0.4 })
    expect(read.findings).toEqual([])
    expect(read.blank!.panels).toHaveLength(13)
    expect(read.blank!.root).toBe('front')
    // Path numbers are 8.24 fixed point of the page: 254 mm / 2^24 each.
    expect(read.blank!.widthMm).toBeCloseTo(211.5, 3)
    expect(read.origin[0]).toBeCloseTo(20, 3)
    expect(read.origin[1]).toBeCloseTo(20, 3)
  })

  test('under a group named after the die, told apart by colour', async () => {
    const group: PsdGroup = {
      name: 'Dieline',
      children: [shape('Shape 1', 'cut'), shape('Shape 2', 'crease')],
    }
    const read = readDie(await drawn([group]), { caliperMm: 0.4 })
    expect(codes(read)).toEqual(['kinds-by-color'])
    expect(read.blank!.panels).toHaveLength(13)
  })

  test('saved paths count by their names, masks of the artwork do not', async () => {
    const paths = (['cut', 'crease'] as const).map(kind => ({
      name: kind === 'cut' ? 'Stanzkontur cut' : 'Rillung',
      clipping: false,
      paths: tuckCarton()
        .filter(line => line.kind === kind)
        .map(({ points }) => knotted(points)),
    }))
    const drawing = await drawn([shape('Comet', 'cut')], { paths })
    const read = readDie(drawing, { caliperMm: 0.4 })
    expect(read.findings).toEqual([])
    expect(read.blank!.panels).toHaveLength(13)
  })

  test('a crease drawn as a thin bar is its middle', async () => {
    const bars = tuckCarton()
      .filter(({ kind }) => kind === 'crease')
      .map(({ points: [p, q] }) => {
        const [dx, dy] = p![0] === q![0] ? [0.15, 0] : [0, 0.15]
        return knotted([
          [p![0] - dx, p![1] - dy],
          [q![0] - dx, q![1] - dy],
          [q![0] + dx, q![1] + dy],
          [p![0] + dx, p![1] + dy],
          [p![0] - dx, p![1] - dy],
        ])
      })
    const drawing = await drawn([
      shape('cut', 'cut'),
      shape('crease', 'crease', { vectorMask: { paths: bars } }),
    ])
    const read = readDie(drawing, { caliperMm: 0.4 })
    expect(read.findings).toEqual([])
    expect(read.blank!.panels).toHaveLength(13)
  })

  test('hidden layers are left out and told; without vectors it says so', async () => {
    const hidden = readDie(
      await drawn([
        shape('cut', 'cut'),
        shape('crease', 'crease'),
        shape('old cut', 'cut', { visible: false }),
      ]),
      { caliperMm: 0.4 },
    )
    expect(codes(hidden)).toEqual(['lines-hidden'])
    expect(hidden.blank!.panels).toHaveLength(13)
    const none = readDie(await drawn([shape('Comet', 'cut')]), { caliperMm: 0.4 })
    expect(codes(none)).toEqual(['no-vectors', 'no-lines'])
    expect(none.blank).toBeNull()
  })
})
