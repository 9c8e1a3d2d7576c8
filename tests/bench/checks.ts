import { readFileSync } from 'node:fs'
import type { ArtFile } from '../../core/art/layer.ts'
import { readArt } from '../../core/art/read.ts'
import { memorySource } from '../../core/base/source.ts'
import type { CheckPart } from '../../core/checks/input.ts'
import { checkParts } from '../../core/checks/parts.ts'
import { putOutline, setEffect } from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import { parseJob } from '../../core/job/parse.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { CheckWork } from '../../electron/check-work.ts'
import { codeReader } from '../../electron/code-reader.ts'
import { GlareThread } from '../../electron/glare-thread.ts'
import { heldBytes } from '../../electron/held-bytes.ts'
import type { BenchResult, BenchRow } from './bench.ts'

/** Seconds on two cores. */
const fullAim = 10
const againAim = 2
/** Memory of a check over that of the map it looks at. */
const memoryAim = 2

/**
 * A full check of the demo, and the check after one area of holography was moved, as a user waits for it: glare in a
 * thread of its own. A busy machine takes longer, so processor time stands beside it. What both threads hold in memory,
 * map and all. The moved area is a star over the comet, so that register, account and sweeps meet it.
 */
export async function run(): Promise<BenchResult> {
  const bytes = new Uint8Array(readFileSync('demo-assets/demo.psd'))
  const plain = parseJob(readFileSync('demo-assets/demo.job.json', 'utf8'), 'demo.job.json')
  const file = await readArt(memorySource('demo.psd', bytes))
  const parts = new Map<string, number>()
  const timed = (part: CheckPart): CheckPart => ({
    ...part,
    run: async (input, task) => {
      const start = seconds()
      const found = await part.run(input, task)
      parts.set(part.name, seconds() - start)
      return found
    },
  })
  const glare = new GlareThread()
  const checks = new CheckWork(async () => glare.among(checkParts(await codeReader())).map(timed))
  const check = async (job: Job, of: ArtFile = file) => {
    parts.clear()
    const start = { wall: seconds(), busy: busySeconds() }
    const { map } = await checks.check(of, { job, assets: [], profile: null })
    return { seconds: seconds() - start.wall, busy: busySeconds() - start.busy, map }
  }
  const rows: BenchRow[] = []
  const row = (name: string, value: number, aim: number | null, unit = 's') =>
    rows.push({ name, value, unit, aim })
  const each = (name: string) => {
    for (const [part, took] of parts) row(`${name}, ${part}`, took, null)
  }
  const all = async () => (await heldBytes()) + (await glare.held())
  const before = await all()
  const { map, ...full } = await check(starAt(plain, 40))
  const kept = (await all()) - before
  row('full check', full.seconds, fullAim)
  row('full check, processor time', full.busy, null)
  each('full check')
  const moved = await check(starAt(plain, 42))
  row('one area of holography moved', moved.seconds, againAim)
  row('moved, processor time', moved.busy, null)
  each('moved')
  row('nothing changed', (await check(starAt(plain, 42))).seconds, againAim)
  const again = await readArt(memorySource('demo.psd', bytes))
  row('the art read again from the disk', (await check(starAt(plain, 42), again)).seconds, null)
  row('held after a check, map, tables and findings', kept / 1e6, null, 'MB')
  row('over the bytes of the map', kept / bytesOf(map), memoryAim, 'x')
  await glare.close()
  return { title: 'checks of the demo', rows }
}

const bytesOf = ({ planes }: MaterialMap): number =>
  [...planes.values()].reduce((sum, { data }) => sum + data.byteLength, 0)

/** The demo with a drawn star. */
function starAt(job: Job, xMm: number): Job {
  const outline = { id: 'star', name: 'Star', rings: [ring(xMm, 40, 6)] }
  const target = { kind: 'outline', id: 'star' } as const
  return setEffect(target, { kind: 'plain', parameters: { pitchNm: 900 } })(putOutline(outline)(job))
}

const ring = (xMm: number, yMm: number, r: number) =>
  Array.from({ length: 10 }, (_, i): readonly [number, number] => {
    const angle = (i * Math.PI) / 5
    const reach = i % 2 === 0 ? r : r / 2.5
    return [xMm + reach * Math.sin(angle), yMm + reach * Math.cos(angle)]
  })

const seconds = (): number => performance.now() / 1000

function busySeconds(): number {
  const { user, system } = process.cpuUsage()
  return (user + system) / 1e6
}
