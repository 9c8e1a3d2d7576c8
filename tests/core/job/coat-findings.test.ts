import { describe, expect, test } from 'vitest'
import { buildKinds, buildOf, rebuilt } from '../../../core/job/board-build.ts'
import { coatFindings } from '../../../core/job/coat-findings.ts'
import type { Job } from '../../../core/job/job.ts'
import { newBoard } from '../../../core/job/usual.ts'

const target = { kind: 'layer', id: 'comet' } as const
const found: Job['found'] = [{ target, name: 'White under the comet', role: 'white' }]
const codes = (board: Partial<Job['board']>, whites: Job['whites'] = []) =>
  coatFindings({ board: { ...newBoard, ...board }, whites, found }).map(({ code }) => code)
const wedge = (...contrasts: readonly number[]): Job['whites'][number] => ({
  target,
  opacity: { from: 'wedge', patches: contrasts.map((contrast, i) => ({ hits: i + 1, contrast })) },
  hits: 1,
  mottle: 0,
  screen: 'dots',
  toneGain: 0,
})

describe('what cannot be as the job says it', () => {
  test('a fresh board can be', () => expect(codes({})).toEqual([]))

  test('a film that was pulled off cannot be looked through', () => {
    expect(codes({ readFrom: 'film' })).toEqual(['no-film-to-see-through'])
    expect(codes({ build: 'laminated', readFrom: 'film' })).toEqual([])
    expect(codes({ build: 'laminated', readFrom: 'lacquer' })).toEqual([])
  })

  test('a tint that no lacquer has is said, with the one that is taken', () => {
    expect(codes({ tint: { name: 'Own', lab: [79, 8, 46] } })).toEqual([])
    const [finding] = coatFindings({
      board: { ...newBoard, tint: { name: 'Own', lab: [98, 0, 90] } },
      whites: [],
      found,
    })
    expect(finding).toMatchObject({ code: 'tint-out-of-reach', where: 'tint "Own"' })
    expect(finding!.message).toContain('98.0 / 0.0 / 90.0')
  })

  // Two hits of a 60 % white read 76 % (layering through the air surface); 62 % is a reading error.
  test('a wedge whose hits do not belong together is said with its layer and patch', () => {
    expect(codes({}, [wedge(0.6, 0.76)])).toEqual([])
    const [finding] = coatFindings({ board: newBoard, whites: [wedge(0.6, 0.62)], found })
    expect(finding).toMatchObject({ code: 'wedge-does-not-fit', where: 'white "White under the comet"' })
  })
})

describe('builds', () => {
  test('an untouched index goes with the build, an entered one stays', () => {
    const [transfer, film] = buildKinds
    expect(buildOf(newBoard)).toBe(transfer)
    expect(rebuilt(newBoard, film!)).toEqual({
      build: 'laminated',
      readFrom: 'film',
      coatIndex: film!.usualIndex,
    })
    expect(rebuilt({ ...newBoard, coatIndex: 1.53 }, film!)).toEqual({ build: 'laminated', readFrom: 'film' })
    expect(rebuilt({ ...newBoard, ...rebuilt(newBoard, film!) }, transfer!)).toMatchObject({ coatIndex: 1.5 })
  })
})
