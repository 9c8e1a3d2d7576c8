import { mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, type Locator, type Page } from '@playwright/test'
import { decode } from 'fast-png'
import { type PsdLayer, writePsd } from './psd-write.ts'

/** The panel's picture as the window draws it, at rest. */
export interface Shot {
  readonly width: number
  readonly height: number
  readonly channels: number
  readonly data: ArrayLike<number>
}

/** Waits until art lies on the table and its map is built. */
export async function ready(page: Page): Promise<void> {
  await expect(page.locator('.picture canvas')).toBeVisible({ timeout: 90_000 })
  await expect(page.locator('.stack')).toHaveAttribute('aria-busy', 'false', { timeout: 90_000 })
}

/** The table's middle once it no longer changes: coarse while moving, then exact, then finer edges. */
export async function steady(page: Page, canvas = page.locator('.picture canvas')): Promise<Shot> {
  const take = async () => decode(await canvas.screenshot({ animations: 'disabled' }))
  let last = await take()
  for (let i = 0; i < 60; i++) {
    await page.waitForTimeout(400)
    const next = await take()
    if (changed(last, next) === 0) return next
    last = next
  }
  throw new Error('the picture never came to rest')
}

/** Part of the pixels that differ by more than `by` codes in a component. */
export function changed(a: Shot, b: Shot, by = 2): number {
  if (a.width !== b.width || a.height !== b.height) return 1
  const pixels = a.width * a.height
  let count = 0
  for (let i = 0; i < pixels; i++)
    for (let c = 0; c < 3; c++) {
      const [u, v] = [a.data[i * a.channels + c] ?? 0, b.data[i * b.channels + c] ?? 0]
      if (Math.abs(u - v) <= by) continue
      count++
      break
    }
  return count / pixels
}

/** Chooses a shape to draw, and waits until the table takes it: its piece of the page is loaded then. */
export async function drawing(
  page: Page,
  tool: 'Rectangle' | 'Ellipse' | 'Polygon',
  tools: Page | Locator = page,
): Promise<void> {
  await tools.getByRole('button', { name: tool }).click()
  await expect(page.locator('.draw-over.drawing')).toBeVisible()
}

/** The middle of the table, in page coordinates. */
export async function middle(page: Page): Promise<readonly [number, number]> {
  const box = await page.locator('.table').first().boundingBox()
  if (box === null) throw new Error('no table')
  return [box.x + box.width / 2, box.y + box.height / 2]
}

/** Drags from a point of the page by an offset. */
export async function drag(page: Page, [x, y]: readonly [number, number], dx: number, dy: number) {
  await page.mouse.move(x, y)
  await page.mouse.down()
  await page.mouse.move(x + dx / 2, y + dy / 2)
  await page.mouse.move(x + dx, y + dy)
  await page.mouse.up()
}

/** A small carton front, 40 × 60 mm, in a folder of its own: holography all over, a white bar, a blue disc. */
export function smallArt(
  name = 'small.psd',
  /** The disc stands on a white of its own shape. */
  onWhite = false,
): { readonly folder: string; readonly path: string } {
  const [width, height] = [240, 360]
  const box = { left: 0, top: 0, right: width, bottom: height }
  const plane = (value: (x: number, y: number) => number) => {
    const data = new Uint8Array(width * height)
    for (let y = 0; y < height; y++) for (let x = 0; x < width; x++) data[y * width + x] = value(x, y)
    return data
  }
  const none = plane(() => 255)
  const disc = (x: number, y: number) => Math.hypot(x - 120, y - 250) < 60
  const bar = (x: number, y: number) => y > 40 && y < 90 && x > 30 && x < 210
  const layer = (
    id: number,
    name: string,
    inks: readonly Uint8Array[],
    alpha: (x: number, y: number) => boolean,
  ): PsdLayer => ({
    id,
    name,
    box,
    planes: {
      0: inks[0] ?? none,
      1: inks[1] ?? none,
      2: inks[2] ?? none,
      3: inks[3] ?? none,
      [-1]: plane((x, y) => (alpha(x, y) ? 255 : 0)),
    },
  })
  const cyan = plane(() => 0)
  const bytes = writePsd({
    width,
    height,
    mode: 'CMYK',
    depth: 8,
    ppi: 152.4,
    layers: [
      layer(1, 'Holography lines', [none, none, none, cyan], () => true),
      layer(2, 'White', [none, none, none, cyan], (x, y) => bar(x, y) || (onWhite && disc(x, y))),
      layer(3, 'Disc', [cyan, cyan, none, none], disc),
    ],
    composite: [none, none, none, none],
    realComposite: false,
  })
  const folder = mkdtempSync(join(tmpdir(), 'rakelight-art-'))
  const path = join(folder, name)
  writeFileSync(path, bytes)
  return { folder, path }
}

/** Files and folders of this machine are dropped on a part of the page, as from the system's own windows. */
export async function dropFiles(on: Locator, paths: readonly string[]): Promise<void> {
  await expect(on).toBeVisible()
  const box = await on.boundingBox()
  const session = await on.page().context().newCDPSession(on.page())
  const data = { items: [], files: [...paths], dragOperationsMask: 1 }
  for (const type of ['dragEnter', 'dragOver', 'drop'] as const)
    await session.send('Input.dispatchDragEvent', { type, x: box?.x ?? 0, y: box?.y ?? 0, data })
}
