import { spawnSync } from 'node:child_process'
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { chromium } from '@playwright/test'
import { sceneWith } from '../../core/job/scene.ts'
import { buildFromJob, openJob } from '../../electron/open-job.ts'
import { findBrowser } from '../../scripts/find/browser.mjs'
import { backend } from '../support/gl.ts'
import { packValue } from '../support/pack-map.ts'
import type { BenchResult, BenchRow } from './bench.ts'
import type { BenchGift, ShaderFrame, ShaderTimes } from './pages/shader.ts'

const [width, height] = [800, 600]

/**
 * A frame of the shader over one of the stock physical material with iridescence, in the same page of the same
 * browser, over the same pixels under as many lamps, both with or without their surroundings. `still` is the full
 * picture at one sample a pixel, `moving` what the hand sees. The page is one file, dist/bench.html, that any machine's
 * browser can open: there `bench(3840, 2160)` measures its own graphics card.
 */
export async function run(): Promise<BenchResult> {
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
    const times: ShaderTimes = await tab.evaluate(([w, h]) => window.bench(w, h), [width, height] as const)
    return {
      title: `shader frame over stock physical material with iridescence, ${times.width} × ${times.height}, ${times.graphics}`,
      rows: times.frames.flatMap(frame => rowsOf(frame)),
    }
  } finally {
    await browser.close()
  }
}

/** On a processor the hand sees coarser pictures; those are to keep up with it. */
const aimWhenMoving = 1.5

function rowsOf({ name, lamps, effort, side, room, ms, stock, covered, lit }: ShaderFrame): BenchRow[] {
  const percent = (part: number) => `${Math.round(100 * part)} %`
  const under = `${lamps === 1 ? 'one lamp' : `${lamps} lamps`}${room ? ' and room' : ''}`
  const what = `${name} (panel ${percent(covered)}, lit ${percent(lit)}), ${under}, ${effort}${side < 1 ? ` at ${side} of the side` : ''}`
  return [
    { name: what, value: ms, unit: 'ms', aim: null },
    {
      name: `${what}, over stock`,
      value: ms / stock,
      unit: 'x',
      aim: effort === 'moving' && !room ? aimWhenMoving : null,
    },
  ]
}

async function demoCarton(): Promise<BenchGift> {
  const opened = await openJob('demo-assets/demo.job.json', false)
  const { map } = await buildFromJob(opened)
  return { map, scene: sceneWith(opened.job, opened.job.light.lamps[0].pose, opened.job.view.pose) }
}
