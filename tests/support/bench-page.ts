import { spawnSync } from 'node:child_process'
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { chromium, type Page } from '@playwright/test'
import { sceneWith } from '../../core/job/scene.ts'
import { buildFromJob, openJob } from '../../electron/open-job.ts'
import { findBrowser } from '../../scripts/find/browser.mjs'
import type { DemoGift } from '../bench/pages/shader.ts'
import { backend } from './gl.ts'
import { packValue } from './pack-map.ts'

/**
 * Builds the page of the benches that draw, and works in it; `processorMs` is what the browser has taken so far of all
 * processors together, which a busy machine does not change. The page is one file, dist/bench.html, that any machine's
 * browser can open: there `bench(3840, 2160)` and `benchFold(1280, 800)` measure its own graphics card.
 */
export async function inBenchPage<T>(
  work: (tab: Page, processorMs: () => Promise<number>) => Promise<T>,
): Promise<T> {
  const page = join(process.cwd(), 'dist', 'bench.html')
  const made = spawnSync(process.execPath, ['scripts/single-page.mjs', 'tests/bench/pages/shader.ts', page], {
    stdio: ['ignore', 'ignore', 'inherit'],
  })
  if (made.status !== 0) throw new Error('the bench page could not be built')
  const gift = `<script>window.demo = ${JSON.stringify(packValue(await demoCarton()))}</script>`
  writeFileSync(page, readFileSync(page, 'utf8').replace('<body>', `<body>\n${gift}`))
  const executablePath = findBrowser()
  const browser = await chromium.launch({
    ...(executablePath === null ? {} : { executablePath }),
    args: [...backend.flags],
  })
  try {
    const tab = await browser.newPage()
    await tab.goto(pathToFileURL(page).href)
    const session = await browser.newBrowserCDPSession()
    return await work(tab, async () => {
      const { processInfo } = await session.send('SystemInfo.getProcessInfo')
      return processInfo.reduce((sum, { cpuTime }) => sum + 1000 * cpuTime, 0)
    })
  } finally {
    await browser.close()
  }
}

async function demoCarton(): Promise<DemoGift> {
  const { job, ...opened } = await openJob('demo-assets/demo.job.json', false)
  const { map } = await buildFromJob({ job, ...opened })
  return { map, job, scene: sceneWith(job, job.light.lamps[0].pose, job.view.pose) }
}
