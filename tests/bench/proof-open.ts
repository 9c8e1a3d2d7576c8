import { spawnSync } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { chromium } from '@playwright/test'
import { blankArt } from '../../core/art/blank.ts'
import { makeProof } from '../../core/export/proof.ts'
import { sceneWith } from '../../core/job/scene.ts'
import { bakeTables } from '../../core/optics/bake.ts'
import { versionOf } from '../../core/proof/version.ts'
import { bakingsOf } from '../../core/reference/baking.ts'
import { buildFromJob, openJob } from '../../electron/open-job.ts'
import { viewerScripts } from '../../electron/viewer-scripts.ts'
import { findBrowser } from '../../scripts/find/browser.mjs'
import { backend } from '../support/gl.ts'
import type { BenchResult } from './bench.ts'

/** The demo at 2.8 million pixels, as many as 2000 × 1400. */
const resolutionPpi = 345
const times = 5

/**
 * Opens the one-file proof of a flat carton from disk, each time in a fresh browser without a graphics card: until the
 * first picture is painted, and until the live one is on the screen.
 */
export async function run(): Promise<BenchResult> {
  const file = join(process.cwd(), 'dist', 'proof-open.html')
  const size = await makeFile(file)
  const opened: Opened[] = []
  for (let i = 0; i < times; i++) opened.push(await openOnce(file))
  const median = (what: keyof Opened) =>
    opened.map(one => one[what]).sort((a, b) => a - b)[Math.floor(times / 2)]! / 1000
  return {
    title: `one-file proof opened from disk, ${size}, 1280 × 800, Chromium on ${backend.name}, median of ${times}`,
    rows: [
      { name: 'first picture painted', value: median('first'), unit: 's', aim: 1 },
      { name: 'live picture on the screen', value: median('live'), unit: 's', aim: 3 },
      {
        name: 'processor time until then, all processes of the browser',
        value: median('processor'),
        unit: 's',
        aim: null,
      },
    ],
  }
}

/** Milliseconds. A busy machine changes the processor's time little. */
interface Opened {
  readonly first: number
  readonly live: number
  readonly processor: number
}

async function makeFile(file: string): Promise<string> {
  const made = spawnSync(process.execPath, ['scripts/build.mjs', 'viewer', 'loader'], {
    stdio: ['ignore', 'ignore', 'inherit'],
  })
  if (made.status !== 0) throw new Error('the viewer could not be built')
  const { job: whole, ...opened } = await openJob('demo-assets/demo.job.json', false)
  const job = { ...whole, panel: { ...whole.panel, resolutionPpi } }
  const { map } = await buildFromJob({ job, ...opened })
  // Stands in for the art, of which a proof only lists assumed numbers.
  const { art } = blankArt({ ...job.panel, whitePart: 0 })
  const scene = sceneWith(job, job.light.lamps[0].pose, job.view.pose)
  const { page } = makeProof({
    of: versionOf({
      jobName: 'demo.job.json',
      madeAt: '2026-03-04T09:30:00Z',
      program: '0',
      data: '0',
      sources: [],
      job,
    }),
    art,
    assigned: [],
    checked: null,
    notes: [],
    map,
    sets: bakingsOf(scene, map).map(bakeTables),
    budget: 25_000_000,
    scripts: await viewerScripts(),
  })
  writeFileSync(file, page)
  return `${map.width} × ${map.height} px, ${(page.length / 1e6).toFixed(1)} MB`
}

async function openOnce(file: string): Promise<Opened> {
  const executablePath = findBrowser()
  const browser = await chromium.launch({
    ...(executablePath === null ? {} : { executablePath }),
    args: [...backend.flags],
  })
  try {
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 } })
    await page.addInitScript(() => {
      new MutationObserver((_, observer) => {
        if (document.querySelector('.picture[data-shows="live"]') === null) return
        observer.disconnect()
        // Until the frame that has it is painted.
        requestAnimationFrame(() => setTimeout(() => Object.assign(window, { liveAt: performance.now() })))
      }).observe(document, { subtree: true, childList: true, attributes: true })
    })
    await page.goto(pathToFileURL(file).href)
    const live = await page.waitForFunction(() => (window as { liveAt?: number }).liveAt, null, {
      timeout: 120_000,
    })
    const session = await browser.newBrowserCDPSession()
    const { processInfo } = await session.send('SystemInfo.getProcessInfo')
    const first = await page.evaluate(
      () => performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? Number.NaN,
    )
    return {
      first,
      live: (await live.jsonValue()) ?? Number.NaN,
      processor: processInfo.reduce((sum, { cpuTime }) => sum + 1000 * cpuTime, 0),
    }
  } finally {
    await browser.close()
  }
}
