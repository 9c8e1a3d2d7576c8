import { describe, expect, test } from 'vitest'
import type { Art, ArtFile } from '../../../core/art/layer.ts'
import { plainLayer } from '../../../core/art/plain-layer.ts'
import { readArt } from '../../../core/art/read.ts'
import { memorySource } from '../../../core/base/source.ts'
import { artChange, artChangeFinding, changeLines } from '../../../core/job/art-change.ts'
import { jobFindings } from '../../../core/job/compare.ts'
import * as edit from '../../../core/job/edit.ts'
import type { Job } from '../../../core/job/job.ts'
import { newJob } from '../../../core/job/new.ts'
import { checkJob } from '../../../core/job/parse.ts'
import { metAgain, relinkArt } from '../../../core/job/relink.ts'
import { seenArt } from '../../../core/job/seen.ts'
import { assignRoles } from '../../../core/roles/assign.ts'
import { plainArt } from '../../support/job.ts'
import { type Inked, layeredPdf } from '../../support/layered-pdf.ts'
import { pageData } from '../../support/page-data.ts'

/** No outside source: what is to be said follows from how the two files were drawn. */

const layer = (id: string, left: number, top: number, side = 100) =>
  plainLayer({
    id,
    name: id,
    kind: 'pixel',
    channelIds: [0, 1, 2, 3, -1],
    box: { left, top, right: left + side, bottom: top + side },
  })
const gold = {
  id: 'gold',
  name: 'Gold',
  kind: 'spot',
  ink: null,
  opacity: null,
  plane: 4,
  layers: [],
} as const
const art = (layers: Art['layers'], more: Partial<Art> = {}): Art => ({ ...plainArt, layers, ...more })
const seen = (one: Art) => seenArt({ art: one } as ArtFile)
const said = async (before: Art, after: Art) =>
  artChangeFinding(artChange(await seen(before), await seen(after))).message

describe('layers', () => {
  // 300 ppi: 59 pixels are 5.0 mm.
  test('what moved is said with its way, what has another size by name', async () => {
    const before = art([layer('Comet', 100, 100), layer('Rings', 400, 300), layer('Sky', 0, 0, 500)])
    const after = art([layer('Comet', 159, 41), layer('Rings', 401, 300), layer('Sky', 0, 0, 400)])
    expect(await said(before, after)).toBe(
      'moved: "Comet" 5.0 mm to the right, 5.0 mm up; another size: "Sky"',
    )
  })

  test('places are counted from the lower left corner: art that grew upwards moved nothing', async () => {
    const before = art([layer('Comet', 100, 100)])
    const after = art([layer('Comet', 100, 160)], { height: 660 })
    expect(await said(before, after)).toBe('101.6 × 50.8 mm became 101.6 × 55.9 mm')
  })

  test('the same page at twice the resolution moved nothing', async () => {
    const twice = { ...layer('Comet', 0, 0), box: { left: 200, top: 200, right: 400, bottom: 400 } }
    const finer = art([twice], { width: 2400, height: 1200, resolutionPpi: 600 })
    expect(await said(art([layer('Comet', 100, 100)]), finer)).toBe(
      'same layers in the same places, other pixels',
    )
  })

  test('new, gone and renamed; a long list is counted in a sentence and whole in lines', async () => {
    const many = ['a', 'b', 'c', 'd', 'e', 'f'].map((id, i) => layer(id, 10 * i, 20 * i))
    const before = art([layer('Comet', 100, 100), layer('Tail', 300, 100, 50)])
    const after = art([{ ...layer('Comet', 100, 100), name: 'The comet' }, ...many])
    expect(await said(before, after)).toBe(
      'new: "a", "b", "c", "d" and 2 more; gone: "Tail"; renamed: "Comet" to "The comet"',
    )
    const change = artChange(await seen(before), await seen(after))
    expect(artChangeFinding(change).severity).toBe('warning')
    expect(changeLines(change)[0]).toBe('new: "a", "b", "c", "d", "e", "f"')
  })

  test('two that could be the renamed one are told as what they are: gone and new', async () => {
    const before = art([layer('One', 100, 100), layer('Two', 100, 100)])
    expect(await said(before, art([layer('Three', 100, 100)]))).toBe('new: "Three"; gone: "One", "Two"')
  })

  test('inks that came and went are named, and the same art says so', async () => {
    const one = art([layer('Comet', 100, 100)])
    const inked = art(one.layers, { channels: [gold] })
    expect(await said(one, inked)).toBe('inks that are new: "Gold"')
    expect(await said(inked, one)).toBe('inks that are gone: "Gold"')
    expect(await said(one, one)).toBe('same layers in the same places, other pixels')
  })
})

test('a plate that is only pixels is looked through for where it lies', async () => {
  const white = { id: 'p4', name: 'White', kind: 'spot', ink: null, opacity: null, plane: 4 } as const
  const at = (left: number): ArtFile => {
    const one = art([], { width: 300, height: 200, channels: [white] })
    const data = new Uint8Array(300 * 200).fill(255)
    for (let y = 20; y < 60; y++) data.fill(0, y * 300 + left, y * 300 + left + 50)
    // A speck that the coding left behind.
    data[5] = 252
    return {
      art: one,
      documentPlane: async () => ({ box: { left: 0, top: 0, right: 300, bottom: 200 }, data }),
    } as Partial<ArtFile> as ArtFile
  }
  const [before, after] = [await seenArt(at(40)), await seenArt(at(52))]
  expect(before.parts[0]?.boxMm).toEqual([3.387, 11.853, 7.62, 15.24])
  expect(changeLines(artChange(before, after))).toEqual(['moved: "White" 1.0 mm to the right'])
})

describe('a PDF that was saved again', () => {
  const parts: readonly Inked[] = [
    { layer: 'Holography rings', ink: 'Holo', box: [10, 10, 20, 20] },
    { layer: 'Stars', ink: 'Star gold', box: [40, 10, 10, 10], cmyk: [0, 0.2, 0.8, 0.1] },
    { layer: 'White', ink: 'White', box: [60, 10, 25, 15], cmyk: [0, 0, 0, 0] },
    { layer: 'Old badge', ink: 'Star gold', box: [40, 40, 5, 5], cmyk: [0, 0.2, 0.8, 0.1] },
  ]
  const later: readonly Inked[] = [
    // 2 mm to the right.
    { ...parts[0]!, box: [12, 10, 20, 20] },
    parts[1]!,
    { ...parts[2]!, ink: 'Deck coat' },
    { layer: 'Comet', ink: 'Star gold', box: [80, 40, 10, 10], cmyk: [0, 0.2, 0.8, 0.1] },
  ]
  const open = (list: readonly Inked[]) =>
    readArt(memorySource('front.pdf', layeredPdf(list)), { shipped: pageData, ppi: 300 })
  const met = async (file: ArtFile, sha: string): Promise<Job> => {
    const assigned = assignRoles(file.art, { aliases: [], choices: [] })
    return newJob(file.art, sha.repeat(32), 'front.pdf', assigned, { ppi: 300 }, await seenArt(file))
  }
  const rings = { kind: 'layer', id: 'layer:Holography rings' } as const
  const badge = { kind: 'layer', id: 'layer:Old badge' } as const
  const white = { kind: 'channel', id: 'White' } as const
  const own = {
    opacity: { from: 'contrast', value: 0.72 },
    hits: 2,
    mottle: 0,
    screen: 'dots',
    toneGain: 0,
  } as const
  const square = {
    id: 'outline 1',
    name: 'Area 1',
    rings: [
      [
        [1, 1],
        [9, 1],
        [9, 9],
      ],
    ],
  } as const

  test('moved by 2 mm, gone, new, an ink renamed: each is said, and areas, roles and effects stay', async () => {
    const first = await met(await open(parts), 'aa')
    const decided = [
      edit.setEffect(rings, { kind: 'lens', parameters: { pitchNm: 900 } }),
      edit.putOutline(square),
      edit.setEffect({ kind: 'outline', id: square.id }, { kind: 'plain', parameters: {} }),
      edit.setRole(badge, 'ignore', null),
      edit.setWhite({ target: white, ...own }),
      edit.setMeasured('white.channel.White.opacity', 'contrast card, press sheet 3'),
    ].reduce((job, change) => change(job), first)
    const after = await open(later)
    const { job, change } = metAgain(decided, await met(after, 'bb'))

    expect(changeLines(change!)).toEqual([
      'new: "Comet"',
      'gone: "Old badge"',
      'renamed: "White" to "Deck coat"',
      'moved: "Holography rings" 2.0 mm to the right',
    ])
    expect(job.art?.sha256).toBe('bb'.repeat(32))
    expect([job.effects, job.outlines, job.panel]).toEqual([decided.effects, decided.outlines, decided.panel])
    // The ink goes on being the white that was measured.
    const coat = { kind: 'channel', id: 'Deck coat' } as const
    expect(job.whites).toEqual([{ target: coat, ...own }])
    expect(job.measured).toEqual([
      { key: 'white.channel.Deck coat.opacity', note: 'contrast card, press sheet 3' },
    ])
    expect(assignRoles(after.art, { aliases: job.aliases, choices: job.roles })).toContainEqual(
      expect.objectContaining({ target: coat, role: 'white' }),
    )
    // What was decided of the part that is gone is kept and said.
    expect(job.roles).toContainEqual({ target: badge, role: 'ignore', amount: null })
    expect(jobFindings(job, after.art)).toMatchObject([{ code: 'target-gone' }])
    expect(checkJob(JSON.parse(JSON.stringify(job)), 'front.job.json')).toEqual(job)
  })

  test('a part that the rules see otherwise now is said for as long as nobody decides', async () => {
    const job = await met(await open(parts), 'aa')
    const fresh = await met(await open(parts), 'bb')
    const other = {
      ...fresh,
      found: fresh.found.map(one => (one.target.id === rings.id ? { ...one, role: 'legend' as const } : one)),
    }
    const taken = relinkArt(other)(job)
    expect(taken.found.find(one => one.target.id === rings.id)?.role).toBe('holography')
    expect(taken.roles).toEqual([])
  })
})
