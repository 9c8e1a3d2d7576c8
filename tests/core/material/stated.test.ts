import { expect, test } from 'vitest'
import type { Art } from '../../../core/art/layer.ts'
import { plainLayer } from '../../../core/art/plain-layer.ts'
import { readArt } from '../../../core/art/read.ts'
import { memorySource } from '../../../core/base/source.ts'
import { planPlates } from '../../../core/export/plate-plan.ts'
import { assumedNumbers } from '../../../core/job/assumed.ts'
import { setWhite } from '../../../core/job/edit.ts'
import type { Job } from '../../../core/job/job.ts'
import { newJob } from '../../../core/job/new.ts'
import { stackAt } from '../../../core/material/sample.ts'
import { statedOpacity } from '../../../core/material/stated.ts'
import { buildForJob, rolesForJob } from '../../../electron/art-work.ts'
import { openPress } from '../../../electron/press.ts'
import { plainArt } from '../../support/job.ts'
import { type Inked, layeredPdf } from '../../support/layered-pdf.ts'
import { pageData } from '../../support/page-data.ts'

/**
 * ISO 32000-2, 8.6.6.5, table 72: a solidity of 1 is an ink that completely covers the inks beneath, 0 one that completely
 * reveals them; PrintingOrder is the order in which inks are laid down, first to last.
 */

const parts: readonly Inked[] = [
  { layer: 'Holography', ink: 'Holo', box: [0, 0, 100, 60] },
  { layer: 'Stars', ink: 'Star gold', box: [40, 10, 10, 10], cmyk: [0, 0.2, 0.8, 0.1] },
  { layer: 'White', ink: 'White', box: [60, 10, 25, 15], cmyk: [0, 0, 0, 0] },
  { layer: 'Flood white', ink: 'Flood white', box: [5, 40, 25, 15], cmyk: [0, 0, 0, 0] },
]
const white = { kind: 'channel', id: 'White' } as const

async function read(hints: string) {
  const file = await readArt(memorySource('front.pdf', layeredPdf(parts, `/MixingHints << ${hints} >>`)), {
    shipped: pageData,
    ppi: 72,
  })
  const assigned = await rolesForJob(file, { aliases: [], roles: [] })
  const job = newJob(file.art, 'ab'.repeat(32), 'front.pdf', assigned, { ppi: 72 })
  const built = (of: Job) => buildForJob(file, { job: of, assets: [], profile: null })
  return { file, assigned, job, built }
}

const order = (...names: readonly string[]) =>
  `/PrintingOrder [${names.map(name => `/${name.replaceAll(' ', '#20')}`).join(' ')}]`

test('a white begins with the solidity that the file states, said as an estimate; what was measured goes before it', async () => {
  const hints = `/Solidities << /White 0.85 /Star#20gold 0.4 /Default 0 >> ${order('White', 'Flood white', 'Star gold', 'Holo')}`
  const { file, assigned, job, built } = await read(hints)
  const { map, findings } = await built(job)
  expect(map.whites).toMatchObject([
    { name: 'White', opacity: 0.85, hits: 1, assumed: true, stated: true },
    // Stated as 0 by default, which is no white: the usual one.
    { name: 'Flood white', opacity: 0.5, assumed: true },
  ])
  expect(map.whites[1]).not.toHaveProperty('stated')
  // 72 mm from the left, 17 mm up: in the middle of the white.
  expect(stackAt(map, 72, 17).whites[0]).toMatchObject({ coverage: 1, opacity: 0.85 })
  const said = (code: string) => findings.filter(one => one.code === code)
  expect(said('white-opacity-stated')).toMatchObject([
    { severity: 'note', where: 'white "White"', message: expect.stringContaining('85 %') },
  ])
  expect(said('ink-opacity-not-shown')).toMatchObject([
    { where: 'spot ink "Star gold"', message: expect.stringContaining('40 %') },
  ])
  expect(said('order-not-shown')).toEqual([])
  const number = (of: Job) =>
    assumedNumbers(of, { art: file.art, assigned }).find(one => one.key === 'white.channel.White.opacity')
  expect(number(job)).toMatchObject({ value: 85, usual: 85, status: 'from the file' })

  const measured = setWhite({
    target: white,
    opacity: { from: 'contrast', value: 0.6 },
    hits: 2,
    mottle: 0,
    screen: 'dots',
    toneGain: 0,
  })(job)
  const after = await built(measured)
  expect(after.map.whites[0]).toMatchObject({ opacity: 0.6, hits: 2, assumed: false })
  expect(after.map.whites[0]).not.toHaveProperty('stated')
  expect(after.findings.map(one => one.code)).not.toContain('white-opacity-stated')
  expect(number(measured)?.value).toBe(60)
})

test('a solidity that no single hit of white has is doubted, and not taken where it promises too much', async () => {
  const { job, built } = await read(
    `/Solidities << /White 1 /Flood#20white 0.9 >> ${order('White', 'Flood white')}`,
  )
  const { map, findings } = await built(job)
  expect(map.whites.map(({ opacity }) => opacity)).toEqual([0.5, 0.9])
  expect(findings.filter(one => one.code === 'white-opacity-stated')).toMatchObject([
    { severity: 'warning', message: expect.stringMatching(/solidity of 100 %.* shown with 50 %/) },
    { severity: 'note' },
  ])
  const low = await read(`/Solidities << /White 0.1 >>`)
  const thin = await low.built(low.job)
  expect(thin.map.whites[0]).toMatchObject({ opacity: 0.1, stated: true })
  expect(thin.findings.find(one => one.code === 'white-opacity-stated')?.severity).toBe('warning')
})

test('the stated order is that of the whites in the map and of the plates', async () => {
  const plates = async (hints: string) => {
    const { file, assigned, job, built } = await read(hints)
    const { press } = await openPress({ intent: 'relative', blackPoint: false })
    const { map, findings } = await built(job)
    return {
      whites: map.whites.map(one => one.name),
      laid: planPlates(file, { ...job, assigned, press }, []).map(one => one.name),
      findings: findings.filter(one => one.code === 'order-not-shown'),
    }
  }
  const process = ['Cyan', 'Magenta', 'Yellow', 'Black']
  const usual = await plates('/Solidities << /White 0.5 >>')
  expect(usual.laid).toEqual(['White', 'Flood white', ...process, 'Star gold'])

  const flood = await plates(order('Flood white', 'White', ...process, 'Star gold', 'Holo'))
  expect(flood.whites).toEqual(['Flood white', 'White'])
  expect(flood.laid).toEqual(['Flood white', 'White', ...process, 'Star gold'])
  expect(flood.findings).toEqual([])

  // Printed on the back of a film: colours first.
  const back = await plates(order('Star gold', ...process, 'White', 'Flood white', 'Holo'))
  expect(back.laid).toEqual(['Star gold', ...process, 'White', 'Flood white'])
  expect(back.findings).toMatchObject([
    {
      severity: 'warning',
      where: 'white "White"',
      message: expect.stringContaining('process inks, "Star gold"'),
    },
    { where: 'white "Flood white"' },
  ])

  // No process ink in the order: nothing is known of their place.
  const bare = await plates(order('Star gold', 'White', 'Flood white'))
  expect(bare.findings).toMatchObject([{ message: expect.stringContaining('over "Star gold";') }, {}])
})

test('inks that print a plate together and differ state nothing', () => {
  const channel = (id: string, opacity: number, plane: number) =>
    ({ id, name: id, kind: 'spot', ink: null, opacity, plane }) as const
  const art = (inks: readonly string[]): Art => ({
    ...plainArt,
    layers: [
      {
        ...plainLayer({
          id: '1',
          name: 'White',
          kind: 'shape',
          box: { left: 0, top: 0, right: 1, bottom: 1 },
          channelIds: [],
        }),
        inks,
      },
    ],
    channels: [channel('a', 0.4, 4), channel('b', 0.7, 5), channel('c', 0.7, 6), channel('d', 0, 7)],
  })
  const target = { kind: 'layer', id: '1' } as const
  expect(statedOpacity(art(['a', 'b']), target)).toBeNull()
  expect(statedOpacity(art(['b', 'c', 'd']), target)).toBe(0.7)
  expect(statedOpacity(art([]), target)).toBeNull()
  expect(statedOpacity(art([]), { kind: 'channel', id: 'd' })).toBeNull()
})
