import { expect, test } from 'vitest'
import type { CheckInput, CheckPart } from '../../../core/checks/input.ts'
import { planeWord } from '../../../core/checks/input-words.ts'
import { Keeper, kept } from '../../../core/checks/keeper.ts'
import { partOfMap } from '../../../core/checks/map-part.ts'
import { preflightCheck } from '../../../core/checks/preflight/check.ts'
import { register } from '../../../core/checks/register/check.ts'
import { runChecks } from '../../../core/checks/run.ts'
import type { MapPlane } from '../../../core/material/map.ts'
import { PlaneReader } from '../../../core/material/plane.ts'
import { tileSide } from '../../../core/material/tiles.ts'
import { checkFinding } from '../../support/check-finding.ts'
import { checkInput } from '../../support/check-input.ts'

const painted = checkInput(
  { size: 24, sideMm: 12, gratings: 1, whites: [{ opacity: 0.9, hits: 1 }], spots: [], varnish: false },
  x => ({ whites: [x > 0 ? 1 : 0], cmyk: [x < 0.5 ? 1 : 0, 0, 0, 0] }),
  { sets: [] },
)

/** A part that reads something of its input, and how often it did. */
function reading(read: (input: CheckInput) => unknown) {
  const state = { runs: 0 }
  const part: CheckPart = {
    name: 'white',
    says: '',
    run: async input => {
      state.runs++
      return [checkFinding({ message: JSON.stringify(read(input)) })]
    },
  }
  return { state, part }
}

/** Runs of the part over these inputs, one check after another. */
async function runsOver(
  read: (input: CheckInput) => unknown,
  ...inputs: readonly CheckInput[]
): Promise<number> {
  const { state, part } = reading(read)
  const keeper = new Keeper()
  for (const input of inputs) await runChecks(keeper.open(input), [part], [])
  return state.runs
}

const withPlane = (name: string): CheckInput => {
  const plane = painted.map.planes.get(name)!
  const data = plane.data.slice()
  data[5] = data[5]! === 0 ? 9 : 0
  return {
    ...painted,
    map: { ...painted.map, planes: new Map([...painted.map.planes, [name, { ...plane, data }]]) },
  }
}
const lampMoved: CheckInput = {
  ...painted,
  scene: { ...painted.scene, light: { ...painted.scene.light, roomLevel: 0.7 } },
}
const limited: CheckInput = { ...painted, limits: { 'white.leastArea': { value: 2, note: 'plant 7' } } }

test('a part runs again when what it read has changed, and only then', async () => {
  const cyan = (input: CheckInput) => input.map.planes.get('C')!.data[0]
  expect(await runsOver(cyan, painted, { ...painted }, lampMoved, limited, withPlane('M'))).toBe(1)
  expect(await runsOver(cyan, painted, withPlane('C'))).toBe(2)
  expect(await runsOver(input => input.scene.light.roomLevel, painted, lampMoved)).toBe(2)
  expect(await runsOver(input => input.limits['white.leastArea'], painted, limited)).toBe(2)
  expect(await runsOver(input => input.limits['white.choke'], painted, limited)).toBe(1)
  expect(await runsOver(input => Object.keys(input.limits), painted, limited)).toBe(2)
  expect(await runsOver(input => [...input.map.planes], painted, withPlane('M'))).toBe(2)
  expect(await runsOver(input => ({ ...input.map }).whites, painted, { ...painted })).toBe(1)
})

test('what was left out and is there later has changed', async () => {
  const { marked: _, ...unmarked } = painted
  const mark = { name: 'Comet', kind: 'text', shape: { kind: 'outline', rings: [] } } as const
  expect(await runsOver(input => input.marked, unmarked, { ...unmarked, marked: [mark] })).toBe(2)
  const viewed = { ...painted, map: { ...painted.map, viewSets: [] } }
  expect(await runsOver(input => input.map.viewSets, painted, viewed)).toBe(2)
})

test('a plane that is written over in place has changed', async () => {
  const input = withPlane('C')
  const { state, part } = reading(one => one.map.planes.get('C')!.data[7])
  const keeper = new Keeper()
  await runChecks(keeper.open(input), [part], [])
  input.map.planes.get('C')!.data[7] = 77
  const list = await runChecks(keeper.open(input), [part], [])
  expect(state.runs).toBe(2)
  expect(list.findings[0]!.message).toBe('77')
})

test('words of planes differ with any byte, the last ones too', () => {
  for (const length of [4, 5, 6, 7, 61]) {
    const data = new Uint8Array(length)
    const word = planeWord({ layout: 'full', components: 1, data })
    for (let i = 0; i < length; i++) {
      const other = data.slice()
      other[i] = 128
      expect(planeWord({ layout: 'full', components: 1, data: other })).not.toBe(word)
    }
  }
})

test('what is kept within a part stands for itself, and whoever asked stands on it', async () => {
  const runs = { inner: 0, outer: 0 }
  const part: CheckPart = {
    name: 'register',
    says: '',
    run: async input => {
      runs.outer++
      const level = input.scene.light.roomLevel
      const tone = await kept(input, 'tone', [], own => {
        runs.inner++
        return own.map.planes.get('C')!.data[5]
      })
      return [checkFinding({ message: `${level} ${tone}` })]
    },
  }
  const keeper = new Keeper()
  const check = (input: CheckInput) => runChecks(keeper.open(input), [part], [])
  await check(painted)
  await check(lampMoved)
  expect(runs).toEqual({ inner: 1, outer: 2 })
  await check(lampMoved)
  expect(runs).toEqual({ inner: 1, outer: 2 })
  // The outer part took the inner's result from before, and still stands on what that read.
  const list = await check({ ...lampMoved, map: withPlane('C').map })
  expect(runs).toEqual({ inner: 2, outer: 3 })
  expect(list.findings[0]!.message).toBe(`0.7 ${withPlane('C').map.planes.get('C')!.data[5]}`)
})

test('a part of the map is all that is there, and all that the result stands on', async () => {
  const side = 3 * tileSide
  const plain = checkInput(
    { size: side, sideMm: side, gratings: 0, whites: [], spots: [], varnish: false },
    () => ({ cmyk: [1, 0, 0, 0] }),
    { sets: [] },
  )
  const tiled: MapPlane = {
    layout: 'tiles',
    components: 1,
    tile: tileSide,
    index: Int32Array.from({ length: 9 }, (_, i) => 8 - i),
    data: new Uint8Array(side * side).fill(7),
  }
  const planes = new Map([...plain.map.planes, ['tiled', tiled]])
  const wide: CheckInput = { ...plain, map: { ...plain.map, planes } }
  const box = { leftMm: tileSide + 2, rightMm: tileSide + 9, bottomMm: tileSide + 2, topMm: tileSide + 9 }
  const part = partOfMap(wide.map, box, 1)
  expect(part).toEqual({ left: tileSide, top: tileSide, right: 2 * tileSide, bottom: 2 * tileSide })
  let runs = 0
  const keeper = new Keeper()
  const sums = (input: CheckInput) =>
    kept(
      keeper.open(input),
      'sums',
      [],
      own => {
        runs++
        return ['C', 'tiled'].map(name => {
          const plane = new PlaneReader(own.map.planes.get(name), side)
          let sum = 0
          for (let y = 0; y < side; y++)
            for (let x = 0; x < side; x++) if (plane.at(x, y) >= 0 && plane.data[plane.at(x, y)] !== 0) sum++
          return sum
        })
      },
      part,
    )
  expect(await sums(wide)).toEqual([tileSide ** 2, tileSide ** 2])
  for (const name of ['C', 'tiled'])
    for (const [at, again] of [
      [0, 0],
      [side - 1, 0],
      [tileSide + tileSide * side, 1],
      [2 * tileSide - 1 + (2 * tileSide - 1) * side, 1],
      [2 * tileSide + 2 * tileSide * side, 0],
    ] as const) {
      const plane = wide.map.planes.get(name)!
      const data = plane.data.slice()
      data[new PlaneReader(plane, side).at(at % side, Math.floor(at / side))]! -= 1
      const changed = new Map([...wide.map.planes, [name, { ...plane, data }]])
      await sums(wide)
      const before = runs
      await sums({ ...wide, map: { ...wide.map, planes: changed } })
      expect([name, at, runs - before]).toEqual([name, at, again])
    }
})

test('a copy of an input with changes is not taken for the input', async () => {
  const part: CheckPart = {
    name: 'register',
    says: '',
    run: async input => {
      const level = (one: CheckInput) => kept(one, 'level', [], own => own.scene.light.roomLevel)
      return [
        checkFinding({
          message: `${await level(input)} ${await level({ ...input, scene: lampMoved.scene })}`,
        }),
      ]
    },
  }
  const { findings } = await runChecks(new Keeper().open(painted), [part], [])
  expect(findings[0]!.message).toBe(`${painted.scene.light.roomLevel} 0.7`)
})

test('a part that failed is not kept', async () => {
  let fails = true
  const part: CheckPart = {
    name: 'white',
    says: '',
    run: async () => {
      if (fails) throw new Error('given up')
      return []
    },
  }
  const keeper = new Keeper()
  await expect(runChecks(keeper.open(painted), [part], [])).rejects.toThrow('given up')
  fails = false
  expect((await runChecks(keeper.open(painted), [part], [])).findings).toEqual([])
})

test('every check finds the same with what is kept as without', async () => {
  const parts = [register, preflightCheck()]
  const keeper = new Keeper()
  for (const input of [painted, limited, withPlane('C'), withPlane('white 0'), painted]) {
    const { keep: _, ...plain } = input
    expect(await runChecks(keeper.open(input), parts, [])).toEqual(await runChecks(plain, parts, []))
  }
})
