import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Handlers } from '../../core/host/contract.ts'
import { sceneWith } from '../../core/job/scene.ts'
import { bakeTables } from '../../core/optics/bake.ts'
import { bakingsOf } from '../../core/reference/baking.ts'
import { createHost } from '../../electron/host.ts'
import { wholeMap } from '../support/whole-map.ts'
import type { BenchResult } from './bench.ts'

const runs = 3

/**
 * Opening a saved job whose map was built in an earlier sitting: from its file to map, levels and tables in hand, all
 * that the first picture is drawn from. The demo carton at its 300 ppi; the host is a new one each time.
 */
export async function run(): Promise<BenchResult> {
  const dataFolder = mkdtempSync(join(tmpdir(), 'rakelight-reopen-'))
  try {
    const first = await opened(dataFolder)
    const again: Times[] = []
    for (let i = 0; i < runs; i++) again.push(await opened(dataFolder))
    const best = (of: (times: Times) => number) => Math.min(...again.map(of))
    return {
      title: 'Opening the demo job, its map kept from before',
      rows: [
        { name: 'first time: art read, map built', value: first.host, unit: 'ms', aim: null },
        {
          name: 'again: job, art and map with its levels from the host',
          value: best(one => one.host),
          unit: 'ms',
          aim: null,
        },
        { name: 'tables of the light', value: best(one => one.tables), unit: 'ms', aim: null },
        {
          name: 'again, in all',
          value: best(one => one.host + one.tables),
          unit: 'ms',
          aim: 1000,
        },
      ],
    }
  } finally {
    rmSync(dataFolder, { recursive: true, force: true })
  }
}

interface Times {
  readonly host: number
  readonly tables: number
}

async function opened(dataFolder: string): Promise<Times> {
  const host = createHost({
    kind: 'desktop',
    version: 'bench',
    dialogs: null,
    dataFolder,
    startPath: join(process.cwd(), 'demo-assets', 'demo.job.json'),
  })
  try {
    const { handlers } = host
    const t0 = performance.now()
    const { map, job } = await throughHost(handlers)
    const t1 = performance.now()
    bakingsOf(sceneWith(job, job.light.lamps[0].pose, job.view.pose), map).map(bakeTables)
    return { host: t1 - t0, tables: performance.now() - t1 }
  } finally {
    await host.close()
  }
}

async function throughHost(handlers: Handlers) {
  const { start } = await handlers.about({})
  if (start === null) throw new Error('no demo job')
  const { job, art } = await handlers.openJob({ fileId: start.id, allowOutside: false })
  if (art.state !== 'found') throw new Error(`the demo art is ${art.state}`)
  await handlers.importArt({
    reading: {},
    besideIds: [],
    password: null,
    fileId: art.file.id,
    taskId: 'read',
  })
  const built = await handlers.buildMap({
    fileId: art.file.id,
    taskId: 'map',
    job: { ...job },
    from: null,
    soon: false,
  })
  const map = wholeMap(built)
  return { map, job }
}
