import { spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { delimiter, join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { expect, type Page, test } from '@playwright/test'
import { decodePng, type PngPicture } from '../../../core/base/png.ts'
import { deltaE2000 } from '../../../core/color/deltae.ts'
import { xyzToLab } from '../../../core/color/lab.ts'
import { apply } from '../../../core/color/matrix.ts'
import { decode, rgbSpaces } from '../../../core/color/rgb.ts'
import { whiteDisplay } from '../../../core/color/xyz.ts'
import { makeProof } from '../../../core/export/proof.ts'
import { sceneWith } from '../../../core/job/scene.ts'
import { pyramid } from '../../../core/material/mip.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import type { Note } from '../../../core/proof/notes.ts'
import { openPage } from '../../../core/proof/open-page.ts'
import { parseNotes } from '../../../core/proof/read-notes.ts'
import { bakingsOf } from '../../../core/reference/baking.ts'
import { smallPicture } from '../../../core/reference/small-picture.ts'
import { proofInput } from '../../support/proof-input.ts'
import { demoJob } from '../demo.ts'

/** One-file proofs opened from disk, as who gets one opens it. */
const folder = mkdtempSync(join(tmpdir(), 'rakelight-proof-'))
const built = (part: string, name: string): string =>
  readFileSync(new URL(`../../../dist/${part}/${name}`, import.meta.url), 'utf8')
const demo = join(folder, 'demo.proof.html')

test.beforeAll(() => {
  const made = spawnSync(
    process.execPath,
    ['scripts/rakelight.mjs', 'proof', demoJob, '-o', demo, '--unchecked'],
    { encoding: 'utf8' },
  )
  expect(made.status, made.stderr).toBe(0)
})
test.afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** The texts that a proof of a small painted map is given. */
function smallProof(name: string, change: Parameters<typeof proofInput>[0] = {}): string {
  const scripts = {
    loader: built('loader', 'loader.js'),
    viewer: built('viewer', 'viewer.js'),
    css: built('viewer', 'viewer.css'),
  }
  const path = join(folder, `${name}.proof.html`)
  writeFileSync(path, makeProof(proofInput({ scripts, ...change })).page)
  return path
}

interface Watched {
  readonly requested: string[]
  readonly errors: string[]
  readonly violations: () => Promise<readonly string[]>
}

/** Opens a file; what it asks for, says on the console and is refused by its policy is written down. */
async function openFile(page: Page, path: string): Promise<Watched> {
  const requested: string[] = []
  const errors: string[] = []
  page.on('request', request => requested.push(request.url()))
  page.on('console', message => {
    if (message.type() === 'error' || message.type() === 'warning') errors.push(message.text())
  })
  page.on('pageerror', error => errors.push(String(error)))
  await page.addInitScript(() => {
    const seen: string[] = []
    Object.assign(window, { refused: seen })
    document.addEventListener('securitypolicyviolation', event => {
      seen.push(`${event.violatedDirective} ${event.blockedURI}`)
    })
  })
  await page.goto(pathToFileURL(path).href)
  return {
    requested,
    errors,
    violations: () => page.evaluate(() => (window as unknown as { refused: string[] }).refused),
  }
}

const shows = (page: Page, what: 'live' | 'strip') =>
  expect(page.locator('.picture')).toHaveAttribute('data-shows', what, { timeout: 90_000 })

/** The canvas keeps its pixels, so that they can be read at any time. */
const keepPixels = (page: Page) =>
  page.addInitScript(() => {
    const whole = HTMLCanvasElement.prototype.getContext
    Object.assign(HTMLCanvasElement.prototype, {
      getContext(this: HTMLCanvasElement, kind: string, how?: object) {
        return Reflect.apply(whole, this, [kind, { ...how, preserveDrawingBuffer: true }])
      },
    })
  })

/** The live picture at rest. */
async function stillPicture(page: Page): Promise<PngPicture> {
  const canvas = page.locator('.picture canvas')
  await expect(canvas).toHaveAttribute('data-fine', 'true', { timeout: 90_000 })
  const address = await canvas.evaluate((one: HTMLCanvasElement) => one.toDataURL('image/png'))
  return decodePng(Buffer.from(address.slice(address.indexOf(',') + 1), 'base64'))
}

test('a proof opened from disk draws what the app draws, tilts, and asks for nothing', async ({ page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await page.setViewportSize({ width: 400, height: 600 })
  await keepPixels(page)
  const { requested, errors, violations } = await openFile(page, demo)
  // The still picture does not wait for the script.
  expect(
    await page.locator('#proof-still').evaluate((one: HTMLImageElement) => one.naturalWidth),
  ).toBeGreaterThan(200)
  await shows(page, 'live')
  const straight = await stillPicture(page)
  const off = differences(straight, referenceOf(demo, straight))
  console.log(
    `proof over the reference: ΔE00 mean ${off.mean.toFixed(4)}, p99 ${off.p99.toFixed(3)}; PSNR ${off.psnr.toFixed(1)} dB`,
  )
  // As in tests/gpu; a step of eight bits, which both pictures have here, is up to half a ΔE00 in the dark.
  expect(off.mean).toBeLessThan(0.03)
  expect(off.p99).toBeLessThan(0.5)
  expect(off.psnr).toBeGreaterThan(45)

  await page.locator('.table').focus()
  await page.keyboard.press('Shift+ArrowRight')
  await expect(page.locator('.pose')).toHaveText('Tilt 10°')
  await expect(page.locator('.picture canvas')).toHaveAttribute('data-fine', 'false')
  const tilted = await stillPicture(page)
  expect(differences(tilted, straight).mean).toBeGreaterThan(2)

  expect(requested.filter(url => !/^(file|data|blob):/.test(url))).toEqual([])
  expect(errors).toEqual([])
  expect(await violations()).toEqual([])
})

/** What the reference computes of the map in the file, as the page's canvas has it. */
function referenceOf(path: string, { width, height }: PngPicture): PngPicture {
  const { manifest, map } = openPage(readFileSync(path, 'utf8'), 'demo.proof.html')
  const levels = pyramid(map())
  const { job } = manifest.of
  const scene = sceneWith(job, job.light.lamps[0].pose, job.view.pose)
  const sets = bakingsOf(scene, levels[0]!).map(bakeTables)
  const { rgba } = smallPicture(scene, levels, sets, { width, height, grid: 2 })
  return { width, height, channels: 4, data: rgba }
}

function differences(a: PngPicture, b: PngPicture) {
  expect([a.width, a.height]).toEqual([b.width, b.height])
  const places = a.width * a.height
  const all = new Float64Array(places)
  let square = 0
  for (let i = 0; i < places; i++) {
    const [p, q] = [a, b].map(({ data, channels }) => [0, 1, 2].map(c => data[channels * i + c]! / 255)) as [
      number[],
      number[],
    ]
    for (let c = 0; c < 3; c++) square += (p[c]! - q[c]!) ** 2
    if (p.some((code, c) => code !== q[c])) all[i] = deltaE2000(labOf(p), labOf(q))
  }
  const mean = all.reduce((sum, one) => sum + one, 0) / places
  return { mean, p99: all.sort()[Math.floor(places * 0.99)]!, psnr: -10 * Math.log10(square / (3 * places)) }
}

const labOf = (code: readonly number[]) =>
  xyzToLab(apply(rgbSpaces.srgb.toXyz, [decode(code[0]!), decode(code[1]!), decode(code[2]!)]), whiteDisplay)

const hostile = [
  '<img src=x onerror="window.ran=1">',
  '</script><script>window.ran=1</script>',
  '"><svg onload="window.ran=1">',
  "';window.ran=1;//",
  '<!--<script>window.ran=1</script>-->',
  '</title><script>window.ran=1</script>',
  '</style><script>window.ran=1</script>',
  '<iframe srcdoc="<script>parent.ran=1</script>"></iframe>',
  'javascript:window.ran=1',
  '&lt;script&gt;window.ran=1&lt;/script&gt;',
  '\u2028window.ran=1\u2029',
  // biome-ignore lint/suspicious/noTemplateCurlyInString: it is to stay as it is
  '${window.ran=1}{{constructor.constructor("window.ran=1")()}}',
] as const

test('names and notes that look like scripts are text, and a note goes out as a file', async ({ page }) => {
  const input = proofInput()
  const { job } = input.of
  const { pose, eyeDistanceMm } = job.view
  const notes: Note[] = hostile.map((text, i) => ({
    id: `note-${i}-hostile`,
    of: null,
    author: text,
    at: '2026-03-04T09:30:00Z',
    text,
    place: { xMm: 2 + i, yMm: 12 },
    lamp: job.light.lamps[0].pose,
    view: { pose, eye: { distanceMm: eyeDistanceMm, sideDeg: 0, riseDeg: 0 } },
    answers: [],
  }))
  const paths = hostile.map(name => ({ ...job.paths[0]!, name }))
  const lamps = job.light.lamps.map(lamp => ({
    ...lamp,
    name: hostile[0],
  })) as unknown as typeof job.light.lamps
  const found = hostile.map((name, i) => ({
    target: { kind: 'layer' as const, id: String(i) },
    name,
    role: 'white' as const,
  }))
  const path = smallProof('hostile', {
    of: {
      ...input.of,
      jobName: hostile.join(' '),
      sources: hostile.map(name => ({ kind: 'art' as const, name, sha256: name, bytes: 1 })),
      job: { ...job, brief: hostile.join(), paths, found, light: { ...job.light, lamps } },
    },
    notes,
  })
  const { requested, errors, violations } = await openFile(page, path)
  await shows(page, 'live')
  for (const text of hostile) await expect(page.locator('.said', { hasText: text }).first()).toBeVisible()
  await page.evaluate(() => {
    for (const part of document.querySelectorAll('details')) part.open = true
  })
  expect(await page.evaluate(() => 'ran' in window)).toBe(false)
  expect(await page.locator('iframe, svg, [onload], [onerror]').count()).toBe(0)
  expect(requested.filter(url => !/^(file|data|blob):/.test(url))).toEqual([])
  expect(errors).toEqual([])
  expect(await violations()).toEqual([])

  await page.getByRole('button', { name: 'Add a note' }).click()
  const box = (await page.locator('.table').boundingBox())!
  // The middle of the panel lies in the middle of the picture, and its 24 mm take 1/1.12 of the height.
  const mm = box.height / 1.12 / 24
  await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2 - 6 * mm)
  await page.getByLabel('What is to be said').fill('A <b>bolder</b> comet', { timeout: 20_000 })
  await page.getByLabel('Your name').fill('Mara')
  await page.getByRole('button', { name: 'Keep the note' }).click()
  await expect(page.locator('.pin')).toHaveCount(hostile.length + 1)
  const coming = page.waitForEvent('download')
  await page.getByRole('button', { name: 'Save notes' }).click()
  const saved = parseNotes(readFileSync(await (await coming).path(), 'utf8'), 'saved.notes.json')
  expect(saved.notes).toHaveLength(1)
  expect(saved.notes[0]).toMatchObject({ author: 'Mara', text: 'A <b>bolder</b> comet', of: input.of.id })
  expect(saved.notes[0]?.place.xMm).toBeCloseTo(12, 0)
  expect(saved.notes[0]?.place.yMm).toBeCloseTo(18, 0)
})

test('without WebGL 2 a drag goes through the strip', async ({ page }) => {
  await page.addInitScript(() => {
    const whole = HTMLCanvasElement.prototype.getContext
    Object.assign(HTMLCanvasElement.prototype, {
      getContext(this: HTMLCanvasElement, kind: string, ...more: unknown[]) {
        return kind.startsWith('webgl') ? null : Reflect.apply(whole, this, [kind, ...more])
      },
    })
  })
  const { errors } = await openFile(page, smallProof('plain'))
  await shows(page, 'strip')
  await expect(page.getByRole('alert')).toContainText('no WebGL 2')
  await dragsThroughStrip(page)
  expect(errors).toEqual([])
})

test('a damaged plane is named, and still and strip are left', async ({ page }) => {
  const text = readFileSync(smallProof('whole'), 'utf8')
  const { manifest } = openPage(text, 'whole.proof.html')
  const at = manifest.planes.findIndex(plane => plane.name === 'C')
  const start = text.indexOf('>', text.indexOf(`id="proof-plane-${at}"`)) + 1
  const other = text[start + 3] === 'A' ? 'B' : 'A'
  const path = join(folder, 'damaged.proof.html')
  writeFileSync(path, text.slice(0, start + 3) + other + text.slice(start + 4))
  await openFile(page, path)
  await shows(page, 'strip')
  await expect(page.getByRole('alert')).toContainText('damaged in its plane "C"')
  await expect(page.getByRole('alert')).toContainText('Ask for the file again')
  await dragsThroughStrip(page)
})

/** The strip of the small proof: 10° forward and back. */
async function dragsThroughStrip(page: Page): Promise<void> {
  const shown = page.locator('.picture img:not(#proof-still):visible')
  await expect(shown).toHaveCount(1)
  const box = (await page.locator('.table').boundingBox())!
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2]
  const pictureAfter = async (dy: number): Promise<string | null> => {
    await page.mouse.move(x, y)
    await page.mouse.down()
    await page.mouse.move(x, y + dy, { steps: 4 })
    await page.mouse.up()
    return shown.getAttribute('src')
  }
  const back = await pictureAfter(-100)
  expect(await pictureAfter(200)).not.toBe(back)
}

test('Firefox opens it from disk and paints it', () => {
  const firefox = findFirefox()
  test.skip(
    firefox === null,
    'no Firefox: its program is looked for as $FIREFOX and by the name firefox or firefox-esr',
  )
  const profile = join(folder, 'firefox')
  mkdirSync(profile)
  const picture = join(folder, 'firefox.png')
  const { status, stderr } = spawnSync(
    firefox ?? '',
    [
      '--headless',
      '--no-remote',
      '--profile',
      profile,
      '--window-size',
      '1280,800',
      '--screenshot',
      picture,
      pathToFileURL(demo).href,
    ],
    { encoding: 'utf8', timeout: 120_000, env: { ...process.env, HOME: folder } },
  )
  expect(status, stderr).toBe(0)
  const shot = decodePng(readFileSync(picture))
  // Taken when the page has loaded, before the live view: the carton at the left, in its colours.
  expect(coloursIn(shot, [200, 100, 740, 780])).toBeGreaterThan(500)
})

function findFirefox(): string | null {
  const places = (process.env.PATH ?? '').split(delimiter)
  const named = places.flatMap(place => ['firefox', 'firefox-esr'].map(name => join(place, name)))
  return [process.env.FIREFOX ?? '', ...named].find(path => path !== '' && existsSync(path)) ?? null
}

function coloursIn(
  { width, channels, data }: PngPicture,
  [left, top, right, bottom]: readonly [number, number, number, number],
): number {
  const found = new Set<number>()
  for (let y = top; y < bottom; y++)
    for (let x = left; x < right; x++) {
      const at = channels * (y * width + x)
      found.add((data[at]! << 16) | (data[at + 1]! << 8) | data[at + 2]!)
    }
  return found.size
}
