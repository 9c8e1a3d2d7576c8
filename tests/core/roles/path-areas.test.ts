import { beforeAll, describe, expect, test } from 'vitest'
import { composite } from '../../../core/art/composite.ts'
import type { ArtFile, OutlinePath } from '../../../core/art/layer.ts'
import { readArt } from '../../../core/art/read.ts'
import { memorySource } from '../../../core/base/source.ts'
import { makePlates } from '../../../core/export/plate-files.ts'
import { usualWish } from '../../../core/export/plate-wish.ts'
import { newJob } from '../../../core/job/new.ts'
import { withPathAreas } from '../../../core/roles/path-areas.ts'
import { buildForJob, rolesForJob } from '../../../electron/art-work.ts'
import { openPress } from '../../../electron/press.ts'
import { labelFont } from '../../support/label-font.ts'
import { writePsd } from '../../support/psd-write.ts'

/** 400 × 200 px at 254 ppi: 40 × 20 mm. */
const [width, height] = [400, 200]

/** A circle as four cubic curves. */
function circle(x: number, y: number, r: number, combine: OutlinePath['combine']): OutlinePath {
  const k = 0.5523 * r
  const knot = (at: readonly [number, number], way: readonly [number, number]) => ({
    in: [at[0] - way[0], at[1] - way[1]] as const,
    at,
    out: [at[0] + way[0], at[1] + way[1]] as const,
  })
  return {
    closed: true,
    continues: false,
    combine,
    knots: [
      knot([x + r, y], [0, k]),
      knot([x, y + r], [-k, 0]),
      knot([x - r, y], [0, -k]),
      knot([x, y - r], [k, 0]),
    ],
  }
}

const paths = [
  // A ring.
  {
    name: 'Holo lens ring',
    clipping: false,
    paths: [circle(12, 10, 6, 'unite'), circle(12, 10, 3, 'exclude')],
  },
  { name: 'White', clipping: false, paths: [circle(30, 10, 5, 'unite')] },
  { name: 'Path 1', clipping: false, paths: [circle(30, 10, 2, 'unite')] },
  { name: 'Cut', clipping: false, paths: [circle(20, 10, 9, 'unite')] },
]

const fill = (value: number) => new Uint8Array(width * height).fill(value)

const psd = (mode: 'CMYK' | 'RGB', layerName = 'Sky'): Uint8Array => {
  const inks = mode === 'CMYK' ? [200, 200, 255, 255] : [40, 40, 120]
  return writePsd({
    width,
    height,
    mode,
    depth: 8,
    ppi: 254,
    layers: [
      {
        name: layerName,
        id: 7,
        box: { left: 0, top: 0, right: width, bottom: height },
        planes: { [-1]: fill(255), ...Object.fromEntries(inks.map((value, i) => [i, fill(value)])) },
      },
    ],
    composite: inks.map(fill),
    paths,
  })
}

const open = async (...of: Parameters<typeof psd>) => readArt(memorySource('lens.psd', psd(...of)))

describe.each(['CMYK', 'RGB'] as const)('saved paths of art in %s', mode => {
  let bare: ArtFile
  let file: ArtFile
  beforeAll(async () => {
    bare = await open(mode)
    file = withPathAreas(bare)
  })

  test('that are called after an area are that area, and the others nothing', async () => {
    const roles = await rolesForJob(file, { aliases: [], roles: [] })
    const named = roles.map(({ target, role, reason }) => [target.id, role, reason])
    expect(named).toEqual([
      ['7', 'overprint', expect.stringContaining('ordinary artwork')],
      ['path:Holo lens ring', 'holography', 'saved path, name has "holo"'],
      ['path:White', 'white', 'saved path, name has "white"'],
    ])
    expect(file.art.findings).toEqual(bare.art.findings)
  })

  test('are no part of the file’s own picture', async () => {
    const [own, other] = [await composite(bare), await composite(file)]
    for (const [i, plane] of own.planes.entries()) expect(other.planes[i]).toEqual(plane)
  })

  test('are in the map where they lie, and go out as the curves that they are', async () => {
    const assigned = await rolesForJob(file, { aliases: [], roles: [] })
    const fresh = newJob(file.art, 'ab'.repeat(32), 'lens.psd', assigned)
    const ring = { kind: 'layer', id: 'path:Holo lens ring' } as const
    const job = { ...fresh, effects: [{ target: ring, effect: { kind: 'plain', parameters: {} } as const }] }
    const { map, findings } = await buildForJob(file, { job, assets: [], profile: null })
    expect(map.areas.map(({ name }) => name)).toContain('Holo lens ring')
    expect(findings.map(({ code }) => code)).not.toContain('hidden-plate-used')

    const { press } = await openPress({ intent: 'relative', blackPoint: false })
    const made = await makePlates({
      file,
      job,
      options: { ...job, assigned, press },
      wish: { ...usualWish, formats: ['svg'], bleedMm: 0 },
      label: { jobName: 'lens', program: '0.1.0', version: 'ab12cd34', madeAt: '2026-11-30T16:00:00.000Z' },
      labelFont,
    })
    // π 5² of 40 × 20 mm.
    expect(made.plates.find(({ name }) => name === 'White')!.coverage).toBeCloseTo((Math.PI * 25) / 800, 3)
    const svg = new TextDecoder().decode(made.files[0]!.bytes)
    const groups = [...svg.matchAll(/<title>(.*?)<\/title>\s*<desc>(.*?)<\/desc>\s*<path d="(.*?)"/g)]
    const found = new Map(groups.map(([, name, says, d]) => [name, { says, d: d! }]))
    for (const [name, curves] of [
      ['Holo lens ring', 8],
      ['White', 4],
    ] as const) {
      expect(found.get(name)!.says).toContain('as it is drawn')
      expect(found.get(name)!.d.match(/C/g)).toHaveLength(curves)
    }
  })
})

test('a path that layers play the part of already is left out, and that is said', async () => {
  const bare = await open('RGB', 'Holo ring')
  const { art } = withPathAreas(bare)
  expect(art.layers.map(({ name }) => name)).toEqual(['Holo ring', 'White'])
  expect(art.findings.map(({ code, where }) => [code, where])).toContainEqual([
    'path-left-out',
    'path "Holo lens ring"',
  ])
})

test('art without such paths is the same file', async () => {
  const bare = await open('RGB')
  const plain: ArtFile = { ...bare, art: { ...bare.art, paths: [] } }
  expect(withPathAreas(plain)).toBe(plain)
})
