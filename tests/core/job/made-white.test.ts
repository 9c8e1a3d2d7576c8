import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { artRows, drawnOnMap, rowsOf } from '../../../core/checks/register/group-rows.ts'
import { whitePicture } from '../../../core/checks/white/picture.ts'
import type { WhiteRecipe } from '../../../core/checks/white/recipe.ts'
import { openColorEngine } from '../../../core/color/profile.ts'
import { jobFindings } from '../../../core/job/compare.ts'
import { setWhite } from '../../../core/job/edit.ts'
import { setLimit } from '../../../core/job/edit-checks.ts'
import { makeWhite, newRecipe, recipeKey, setMadeWhite } from '../../../core/job/made-white.ts'
import { newJob } from '../../../core/job/new.ts'
import { jobText, parseJob } from '../../../core/job/parse.ts'
import { LiveMap } from '../../../core/material/live-map.ts'
import type { MadeWhite } from '../../../core/material/made-white.ts'
import { madeWhiteTarget } from '../../../core/material/plates.ts'
import { stackAt } from '../../../core/material/sample.ts'
import type { Assigned } from '../../../core/roles/role.ts'
import { paintedFile } from '../painted.ts'

/** 20 × 10 mm at 10 pixels a mm: a box of ink with a box of foil in it, and a box of white beside them. */
const panel = { widthMm: 20, heightMm: 10, resolutionPpi: 254 }
const box = (left: number, bottom: number, right: number, top: number) => (px: number, py: number) => {
  const [x, y] = [(px + 0.5) / 10, 10 - (py + 0.5) / 10]
  return [1, 0, 0, 0, x > left && x < right && y > bottom && y < top ? 1 : 0]
}
const file = paintedFile({
  width: 200,
  height: 100,
  layers: [
    { name: 'Comet', paint: box(2, 2, 8, 8) },
    { name: 'Holography star', paint: box(4, 4, 6, 6) },
    { name: 'White bar', paint: box(12, 2, 18, 8) },
  ],
})
const roles = { Comet: 'overprint', 'Holography star': 'holography', 'White bar': 'white' } as const
const assigned = Object.entries(roles).map(
  ([id, role]): Assigned => ({
    target: { kind: 'layer', id },
    role,
    reason: '',
    by: 'rule',
    amount: { from: 'alpha' },
    askAmount: false,
    amountReason: '',
  }),
)
const plain = { ...newJob(file.art, 'ab'.repeat(32), 'art.psd', assigned), panel }
const recipe: WhiteRecipe = { ...newRecipe(plain), under: ['Comet'], knockOut: ['Holography star'] }

async function made(of: WhiteRecipe): Promise<MadeWhite> {
  const { data } = await makeWhite(file, of, panel)
  return { name: of.name, key: recipeKey(of, panel), data }
}

test('a recipe becomes the white of its layers, choked, without what foil shows through, with its patches', async () => {
  const patches = [{ name: 'EAN', box: { leftMm: 13, bottomMm: 4, rightMm: 15, topMm: 5 } }]
  const design = { chokeMm: 0.2, spreadMm: 0.5, chokeFromPt: 8 }
  const { areaMm2, made: did } = await makeWhite(file, { ...recipe, patches, design }, panel)
  // A choke of 0.2 mm on 6 mm, less 2 × 2 mm, and a patch of 3 × 2 mm; edges to 0.01 mm.
  expect(Math.abs(areaMm2 - (5.6 ** 2 - 4 + 6))).toBeLessThan(0.01 * (4 * 5.6 + 8 + 10))
  expect(did.map(one => one.did)).toEqual(['choked', 'knock-out', 'patch'])
  const small = await whitePicture(file, assigned, await makeWhite(file, recipe, panel), 20)
  expect([small.width, small.height]).toEqual([20, 10])
  const at = (plane: Uint8Array, x: number, y: number) => plane[(9 - y) * 20 + x]
  expect([at(small.drawn, 13, 5), at(small.made, 13, 5)]).toEqual([255, 255])
  expect([at(small.drawn, 3, 3), at(small.made, 3, 3)]).toEqual([0, 255])
  expect([at(small.made, 4, 5), at(small.made, 10, 5)]).toEqual([0, 0])
})

test('the map has it as a plate of its own, with the numbers that the job gives it; a change of it builds anew', async () => {
  const press = {
    engine: await openColorEngine(),
    profile: new Uint8Array(
      readFileSync(new URL('../../../core/data/icc/ISOcoated_v2_300_bas.icc', import.meta.url)),
    ),
  }
  const white = await made(recipe)
  const options = (of: MadeWhite | null) => ({ ...plain, assigned, press, made: of })
  const live = await LiveMap.build(file, {
    ...options(white),
    whites: [{ target: madeWhiteTarget, opacity: { from: 'contrast', value: 0.7 }, hits: 2 }],
  })
  const [map] = live.levels
  expect(map!.whites.map(({ name, opacity, hits, made: own }) => [name, opacity, hits, own])).toEqual([
    ['White bar', 0.5, 1, undefined],
    [recipe.name, 0.7, 2, true],
  ])
  expect(stackAt(map!, 3, 3).whites.map(one => one.coverage)).toEqual([0, 1])
  expect(stackAt(map!, 5, 5).whites.map(one => one.coverage)).toEqual([0, 0])
  expect(stackAt(map!, 14, 5).whites.map(one => one.coverage)).toEqual([1, 0])

  const same = await LiveMap.build(file, options(white))
  expect(await same.edit(options(await made(recipe)))).toBe(true)
  const other = await made({ ...recipe, knockOut: [] })
  expect(await same.edit(options(other))).toBe(false)
  expect(await same.edit(options(null))).toBe(false)

  // Its edges count where groups have to fit.
  let sum = 0
  for (const picture of [...artRows(assigned, file, 'white'), ...drawnOnMap(map!, file.art, 'white')])
    for await (const row of rowsOf(picture)) sum += row.reduce((a, b) => a + b, 0)
  expect(Math.abs(sum / 100 - (36 + 5.7 ** 2 - 4))).toBeLessThan(0.5)
})

test('it is saved as a recipe, begins with the job’s own limits, and goes with what was measured of it', () => {
  const own = setLimit('white.choke', 0.3, 'plant')(plain)
  expect(newRecipe(own).design).toEqual({ chokeMm: 0.3, spreadMm: 1, chokeFromPt: 8 })
  const taken = setWhite({
    target: madeWhiteTarget,
    opacity: { from: 'contrast', value: 0.7 },
    hits: 2,
    mottle: 0,
    screen: 'dots',
    toneGain: 0,
  })(setMadeWhite(recipe)(plain))
  expect(parseJob(jobText(taken), 'saved').madeWhite).toEqual(recipe)
  expect(jobFindings(taken, file.art).map(one => one.code)).not.toContain('target-gone')
  const gone = setMadeWhite({ ...recipe, under: ['Comet', 'Nebula'] })(plain)
  expect(jobFindings(gone, file.art)).toMatchObject([{ code: 'target-gone' }])
  expect(setMadeWhite(null)(taken)).toMatchObject({ madeWhite: null, whites: [] })
  expect(recipeKey({ ...recipe, name: 'Other' }, panel)).toBe(recipeKey(recipe, panel))
  expect(() =>
    parseJob(
      jobText({ ...plain, madeWhite: { ...recipe, design: { ...recipe.design, chokeMm: 3 } } }),
      'odd',
    ),
  ).toThrow('madeWhite.design.chokeMm')
})
