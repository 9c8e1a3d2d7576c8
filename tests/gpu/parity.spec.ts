import { mkdirSync, writeFileSync } from 'node:fs'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { expect, type Page, test } from '@playwright/test'
import { shiftedMap } from '../../core/checks/register/shifted-map.ts'
import { deltaE2000 } from '../../core/color/deltae.ts'
import { type Lab, xyzToLab } from '../../core/color/lab.ts'
import { apply } from '../../core/color/matrix.ts'
import { decode, type Gamut, rgbSpaces } from '../../core/color/rgb.ts'
import { whiteDisplay } from '../../core/color/xyz.ts'
import { writePng } from '../../core/export/png.ts'
import { pyramid } from '../../core/material/mip.ts'
import { bakeTables } from '../../core/optics/bake.ts'
import type { Table } from '../../core/optics/coordinate.ts'
import { bakingsOf } from '../../core/reference/baking.ts'
import { displayPicture } from '../../core/reference/display-picture.ts'
import { renderTile } from '../../core/reference/render.ts'
import { opticsTables } from '../../renderer/stage/optics.ts'
import { floatsFromBase64, packJson } from '../support/base64.ts'
import type { Drawing } from './page.ts'
import { type Case, parityCases } from './scenes.ts'

/*
 * The shader against the reference. They share every table bit for bit, and the same formulas; they are not equal
 * because the reference computes in 64-bit floats and the shader in 32-bit ones with the graphics card's own
 * exp, pow and cos: positions of narrow bands move by parts of a nanometre, and a place that falls on the border of
 * two texels, of two map levels or of a cut-off falls to either side. So: nearly no mean difference, and a tail.
 */
const size = 256
const worstMean = 0.03
const worstP99 = 0.3
const worstPsnr = 45
/** Of the picture's whole light on the screen, relative: sees a factor that is off by a little everywhere. */
const worstSum = 5e-4

/** Of 99.9 % of the pixels, in the six scenes that stand for all: a kind of view, white, inks, lamps, room and fold. */
const worstP999 = 0.5
const standing = new Set([
  'layered depth',
  'a white wedge, coverage by opacity',
  'inks over foil, D50, no room',
  'two lamps of different spectra',
  'the room alone, bright, in facets and inks',
  'a side panel folded away',
])

const folder = fileURLToPath(new URL('../../dist/gpu/', import.meta.url))
let page: Page

test.beforeAll(async ({ browser }) => {
  const { singlePage } = await import('../../scripts/single-page.mjs')
  mkdirSync(folder, { recursive: true })
  writeFileSync(`${folder}page.html`, await singlePage('tests/gpu/page.ts'))
  page = await browser.newPage()
  await page.goto(pathToFileURL(`${folder}page.html`).href)
  console.log(`graphics: ${await page.evaluate(() => window.parity.backend())}`)
})
test.afterAll(() => page.close())

test('every table comes back from the graphics card bit for bit', async () => {
  const last = parityCases().at(-2)!
  const tables = bakingsOf(last.scene, last.map).map(bakeTables)
  for (const [name, table] of Object.entries(opticsTables(tables))) {
    expect(table, `${name} is in use`).not.toBeNull()
    const back = floatsFromBase64(await page.evaluate(t => window.parity.readBack(t), packJson(table)))
    expect(countDifferent(table!, back), name).toBe(0)
  }
})

for (const found of parityCases())
  test(`the shader draws what the reference computes: ${found.name}`, async () => {
    await compare(found, false)
  })

test('the scenes that stand for all are there', () => {
  const names = new Set(parityCases().map(found => found.name))
  expect([...standing].filter(name => !names.has(name))).toEqual([])
})

test('so it does with all samples a pixel', async () => {
  await compare(parityCases().find(c => c.name === 'radial rings, tilted and turned')!, true)
})

test('a sample straight on the screen is the one by way of the sum', async () => {
  // Without a room: straight on the screen it is only its mean.
  for (const name of [
    'inks over foil, D50, no room',
    'plain grating, lamp of 120 mm, six stops under, no room',
    'a proof lifted a little, without its white, no room',
  ]) {
    const found = parityCases().find(c => c.name === name)!
    const tables = packJson(bakingsOf(found.scene, found.map).map(bakeTables))
    const bySum = await drawn(found, tables, 'sum')
    const direct = await drawn(found, tables, 'direct')
    let worst = 0
    for (let i = 0; i < bySum.length; i++) worst = Math.max(worst, Math.abs(bySum[i]! - direct[i]!))
    // Sums are kept in single precision, as the direct ones are computed; an eighth of an 8-bit step is not seen.
    expect(worst, name).toBeLessThan(0.125 / 255)
  }
})

test('a picture of fewer pixels is that picture, enlarged', async () => {
  const found = parityCases().find(c => c.name === 'inks over foil, rings and board')!
  const tables = packJson(bakingsOf(found.scene, found.map).map(bakeTables))
  const small = await drawn(found, tables, 'moving', 32)
  const large = await drawn(found, tables, 'coarse', 96)
  let worst = 0
  let lit = 0
  for (let y = 0; y < 32; y++)
    for (let x = 0; x < 32; x++)
      for (let c = 0; c < 3; c++) {
        // The middle one of three pixels lies on a pixel of the small picture.
        const own = small[4 * (32 * y + x) + c]!
        worst = Math.max(worst, Math.abs(large[4 * (96 * (3 * y + 1) + 3 * x + 1) + c]! - own))
        lit = Math.max(lit, own)
      }
  expect(lit).toBeGreaterThan(0.5)
  // Screen values of eight bits, and the filter's own eight bits for where it looks.
  expect(worst).toBeLessThan(2 / 255)
})

test('a lost graphics context comes back with the same picture', async () => {
  const { name, scene, map } = parityCases().find(c => c.name === 'inks over foil, rings and board')!
  const tables = packJson(bakingsOf(scene, map).map(bakeTables))
  const { before, after } = await page.evaluate(([n, t]) => window.parity.lossAndReturn(n, t, 64), [
    name,
    tables,
  ] as const)
  expect(before.length).toBeGreaterThan(1000)
  expect(after).toBe(before)
})

async function drawn(found: Case, tables: string, how: Drawing, side = size): Promise<Float32Array> {
  const picture = await page.evaluate(([name, t, n, h]) => window.parity.picture(name, t, n, h), [
    found.name,
    tables,
    side,
    how,
  ] as const)
  return floatsFromBase64(picture)
}

async function compare(found: Case, fine: boolean): Promise<void> {
  const levels = pyramid(found.motions === undefined ? found.map : shiftedMap(found.map, found.motions))
  const tables = bakingsOf(found.scene, found.map).map(bakeTables)
  const shader = await drawn(found, packJson(tables), fine ? 'fine' : 'sum')
  const shape = { width: size, height: size, grid: fine ? 4 : 1 }
  const light = renderTile(found.scene, levels, tables, shape, { top: 0, bottom: size })
  const reference = displayPicture(light, found.scene, 16)
  const slug = `${found.name.replace(/[^a-z0-9]+/gi, '-')}${fine ? '-fine' : ''}`
  save(`${slug}-shader.png`, i => shader[4 * Math.floor(i / 3) + (i % 3)]!)
  save(`${slug}-reference.png`, i => reference[i]! / 65535)

  const { gamut } = found.scene.view
  const differences = new Float64Array(size * size)
  let square = 0
  let shaderSum = 0
  let referenceSum = 0
  for (let i = 0; i < size * size; i++) {
    const a = [shader[4 * i]!, shader[4 * i + 1]!, shader[4 * i + 2]!] as const
    const b = [
      reference[3 * i]! / 65535,
      reference[3 * i + 1]! / 65535,
      reference[3 * i + 2]! / 65535,
    ] as const
    differences[i] = deltaE2000(labOf(a, gamut), labOf(b, gamut))
    for (let c = 0; c < 3; c++) {
      square += (a[c]! - b[c]!) ** 2
      shaderSum += decode(a[c]!)
      referenceSum += decode(b[c]!)
    }
  }
  const mean = differences.reduce((sum, d) => sum + d, 0) / differences.length
  const p99 = differences.sort()[Math.floor(differences.length * 0.99)]!
  const p999 = differences[Math.floor(differences.length * 0.999)]!
  const sum = Math.abs(shaderSum / referenceSum - 1)
  const psnr = -10 * Math.log10(square / (3 * size * size))
  console.log(
    `${found.name}${fine ? ', fine' : ''}: ΔE00 mean ${mean.toFixed(4)}, p99 ${p99.toFixed(3)}, p99.9 ${p999.toFixed(3)}, max ${differences.at(-1)!.toFixed(1)}; PSNR ${psnr.toFixed(1)} dB; sum ${sum.toExponential(1)}`,
  )
  expect(mean).toBeLessThan(found.worstMean ?? worstMean)
  expect(p99).toBeLessThan(worstP99)
  if (standing.has(found.name)) expect(p999).toBeLessThanOrEqual(worstP999)
  expect(psnr).toBeGreaterThan(found.worstPsnr ?? worstPsnr)
  expect(sum).toBeLessThan(worstSum)
}

function labOf(code: readonly [number, number, number], gamut: Gamut): Lab {
  const linear = [decode(code[0]), decode(code[1]), decode(code[2])] as const
  return xyzToLab(apply(rgbSpaces[gamut].toXyz, linear), whiteDisplay)
}

function countDifferent(table: Table, back: Float32Array): number {
  const sent = new Uint32Array(table.data.buffer, table.data.byteOffset, table.data.length)
  const came = new Uint32Array(back.buffer)
  let different = 0
  for (let i = 0; i < sent.length; i++) if (sent[i] !== came[table.channels === 4 ? i : 4 * i]) different++
  return different
}

/** Both pictures stay in dist/gpu for the eye. */
function save(name: string, code: (i: number) => number): void {
  const data = Uint8Array.from({ length: size * size * 3 }, (_, i) => Math.round(255 * code(i)))
  writeFileSync(folder + name, writePng({ width: size, height: size, channels: 3, data }, 'srgb'))
}
