import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Worker } from 'node:worker_threads'
import { type InkPlanes, paintPage } from '../../core/art/ink/raster.ts'
import { readInkPage } from '../../core/art/pdf/read-page.ts'
import { openFile } from '../../electron/file-source.ts'
import { manyObjects, manyObjectsPdf } from '../support/many-objects.ts'
import { pageData } from '../support/page-data.ts'
import type { BenchResult, BenchRow } from './bench.ts'

const widthPx = 7083
const heightPx = 4720
const objects = 2000

/**
 * A PDF page of plain objects in seven inks to planes, against a separation renderer of the system that is given the
 * same file, writes its planes unpacked and softens no edge. Processor seconds of whole processes, their start included:
 * the machine may be busy with other things.
 */
export async function run(): Promise<BenchResult> {
  const folder = mkdtempSync(join(tmpdir(), 'rakelight-separations-'))
  try {
    const page = manyObjects(objects)
    const file = join(folder, 'page.pdf')
    writeFileSync(file, manyObjectsPdf(page))
    const peer = reference(folder, file)
    const one = ownProcess(file, 1)
    const two = ownProcess(file, 2)
    const planes = widthPx * heightPx * page.inks.length
    const rows: BenchRow[] = [
      { name: 'planes, one thread: processor', value: one.processor, unit: 's', aim: null },
      { name: 'planes, one thread: wall', value: one.wall, unit: 's', aim: null },
      { name: 'planes, two threads: processor', value: two.processor, unit: 's', aim: null },
      { name: 'planes, two threads: wall', value: two.wall, unit: 's', aim: null },
      { name: 'peak memory of the process over its planes', value: one.peak / planes, unit: 'x', aim: 3 },
    ]
    if (peer !== null)
      rows.push(
        { name: 'reference: processor', value: peer.processor, unit: 's', aim: null },
        { name: 'reference: wall', value: peer.wall, unit: 's', aim: null },
        {
          name: 'ours over the reference, processor',
          value: one.processor / peer.processor,
          unit: 'x',
          aim: 1.5,
        },
        { name: 'ours over the reference, wall', value: one.wall / peer.wall, unit: 'x', aim: null },
        {
          name: 'ours on two threads over the reference, wall',
          value: two.wall / peer.wall,
          unit: 'x',
          aim: null,
        },
      )
    return {
      title: `${objects} objects in ${page.inks.length} inks to planes of ${widthPx} × ${heightPx}`,
      rows,
    }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

interface Measured {
  readonly processor: number
  readonly wall: number
  /** Bytes, at most. */
  readonly peak: number
}

const ownFile = JSON.stringify(import.meta.url)

function ownProcess(file: string, threads: number): Measured {
  const call = `const { paintAll } = await import(${ownFile}); console.log(JSON.stringify(await paintAll(${JSON.stringify(file)}, ${threads})))`
  const began = performance.now()
  const child = spawnSync(process.execPath, ['--input-type=module', '-e', call], { encoding: 'utf8' })
  if (child.status !== 0) throw new Error(`painting ended with status ${child.status}: ${child.stderr}`)
  return { ...JSON.parse(child.stdout), wall: (performance.now() - began) / 1000 }
}

/** Reads the file and paints its page by so many threads, each its rows, and keeps all planes. */
export async function paintAll(file: string, threads: number): Promise<Pick<Measured, 'processor' | 'peak'>> {
  const edges = Array.from({ length: threads + 1 }, (_, i) => Math.round((heightPx * i) / threads))
  const others = edges.slice(1, -1).map((top, i) => paintElsewhere(file, top, edges[i + 2]!))
  const kept = [await paintRows(file, 0, edges[1]!), ...(await Promise.all(others))]
  const rows = kept.reduce((sum, planes) => sum + planes.rows, 0)
  if (rows !== heightPx) throw new Error(`${rows} rows were painted`)
  const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage()
  return { processor: (userCPUTime + systemCPUTime) / 1e6, peak: maxRSS * 1024 }
}

export async function paintRows(file: string, top: number, bottom: number): Promise<InkPlanes> {
  const source = await openFile(file)
  const page = await readInkPage(source, {}, pageData)
  await source.close()
  return paintPage(page, { widthPx, heightPx, rows: [top, bottom] })
}

function paintElsewhere(file: string, top: number, bottom: number): Promise<InkPlanes> {
  const code = `import('node:worker_threads').then(async ({ parentPort }) => {
    const { paintRows } = await import(${ownFile})
    const planes = await paintRows(${JSON.stringify(file)}, ${top}, ${bottom})
    parentPort.postMessage(planes, [planes.shape.buffer, ...planes.inks.map(plane => plane.buffer)])
  })`
  return new Promise((resolve, reject) => {
    const worker = new Worker(code, { eval: true })
    worker.once('message', resolve)
    worker.once('error', reject)
  })
}

/** Null where it is not installed. */
function reference(folder: string, file: string): Omit<Measured, 'peak'> | null {
  // `times` prints what the children took, in its last line.
  const script =
    'gs -q -dSAFER -dBATCH -dNOPAUSE -sDEVICE=tiffsep -sCompression=none -r300 -sOutputFile="$1" "$0" && times'
  const began = performance.now()
  const done = spawnSync('bash', ['-c', script, file, join(folder, 'out.tif')], { encoding: 'utf8' })
  const wall = (performance.now() - began) / 1000
  if (done.error || done.status === 127) return null
  if (done.status !== 0) throw new Error(`the reference ended with status ${done.status}: ${done.stderr}`)
  const last = done.stdout.trim().split('\n').at(-1)!
  const taken = [...last.matchAll(/(\d+)m([\d.]+)s/g)]
  const processor = taken.reduce(
    (sum, [, minutes, seconds]) => sum + Number(minutes) * 60 + Number(seconds),
    0,
  )
  return { processor, wall }
}
