import { spawnSync } from 'node:child_process'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { chromium } from '@playwright/test'
import { findBrowser } from '../../scripts/find/browser.mjs'
import { backend } from '../support/gl.ts'
import type { BenchResult } from './bench.ts'
import type { ShaderTimes } from './pages/shader.ts'

const [width, height] = [800, 600]

/**
 * A frame of the shader over one of the stock physical material with iridescence, in the same page of the same
 * browser, every pixel covered. The frames that must keep up with a hand are the moving ones; at rest a picture may
 * take its time. The page is one file, dist/bench.html, that any machine's browser can open: there
 * `bench(3840, 2160)` measures its own graphics card.
 */
export async function run(): Promise<BenchResult> {
  const page = join(process.cwd(), 'dist', 'bench.html')
  const made = spawnSync(process.execPath, ['scripts/single-page.mjs', 'tests/bench/pages/shader.ts', page], {
    stdio: ['ignore', 'ignore', 'inherit'],
  })
  if (made.status !== 0) throw new Error('the bench page could not be built')
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
      rows: [
        { name: 'stock physical material', value: times.physical, unit: 'ms', aim: null },
        ...times.frames.flatMap(({ name, effort, ms }) => [
          { name: `${name}, ${effort}`, value: ms, unit: 'ms', aim: null },
          {
            name: `${name}, ${effort}, over stock`,
            value: ms / times.physical,
            unit: 'x',
            aim: effort === 'moving' ? 1.5 : null,
          },
        ]),
      ],
    }
  } finally {
    await browser.close()
  }
}
