import { mkdirSync, writeFileSync } from 'node:fs'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { expect, test } from '@playwright/test'
import { writePng } from '../../core/export/png.ts'
import { bakeTables } from '../../core/optics/bake.ts'
import { bakingsOf } from '../../core/reference/baking.ts'
import { floatsFromBase64, packJson } from '../support/base64.ts'
import { backend, goldenBackend } from '../support/gl.ts'
import { parityCases } from './scenes.ts'

/*
 * The reference judges what is right; these two pictures only see that something changed which nobody meant to
 * change. One renderer draws the same pixels in every run; a processor with other vector instructions may move a few.
 */
const size = 256
const folder = fileURLToPath(new URL('../../dist/golden/', import.meta.url))

for (const name of ['inks over foil, rings and board', 'radial rings, tilted and turned'])
  test(`the picture is the one that was looked at: ${name}`, async ({ page }) => {
    test.skip(
      backend.name !== goldenBackend,
      `golden pictures are ${goldenBackend}'s, this is ${backend.name}`,
    )
    const { singlePage } = await import('../../scripts/single-page.mjs')
    mkdirSync(folder, { recursive: true })
    writeFileSync(`${folder}page.html`, await singlePage('tests/gpu/page.ts'))
    await page.goto(pathToFileURL(`${folder}page.html`).href)
    const { scene, map } = parityCases().find(found => found.name === name)!
    const tables = packJson(bakingsOf(scene, map).map(bakeTables))
    const picture = await page.evaluate(([n, t, s]) => window.parity.picture(n, t, s, 'sum'), [
      name,
      tables,
      size,
    ] as const)
    const codes = floatsFromBase64(picture)
    const data = Uint8Array.from({ length: size * size * 3 }, (_, i) =>
      Math.round(255 * codes[4 * Math.floor(i / 3) + (i % 3)]!),
    )
    const png = writePng({ width: size, height: size, channels: 3, data }, scene.view.gamut)
    expect(Buffer.from(png)).toMatchSnapshot(`${name.replace(/[^a-z]+/g, '-')}.png`, {
      threshold: 0.05,
      maxDiffPixelRatio: 0.005,
    })
  })
