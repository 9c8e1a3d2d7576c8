import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import { expect, type Page } from '@playwright/test'
import { test } from '../../support/served.ts'
import { changed, drag, middle, ready, smallArt, steady } from '../../support/table.ts'
import { demoJob } from '../demo.ts'

/** How work goes: from nothing to a saved job, other designs beside it, and what a crash leaves. */

const anything = async (page: Page, typed: string) => {
  await page.keyboard.press('F2')
  await page.getByRole('combobox', { name: 'What do you want to do?' }).fill(typed)
  await page.keyboard.press('Enter')
}

/** The page goes without a question, as one that crashes does. */
const letGo = (page: Page) =>
  page.evaluate(() =>
    window.addEventListener('beforeunload', event => event.stopImmediatePropagation(), true),
  )

/** The first picture waits for the page, its script, the styles and the thread for sums: gzip as a server would send them. */
const mostBytes = 500_000

test('the first picture needs no more than 500 kB of the page', async ({ open, page }) => {
  const bodies: Promise<[name: string, bytes: number]>[] = []
  page.on('response', response => {
    const { pathname } = new URL(response.url())
    if (response.request().method() !== 'GET' || response.status() !== 200) return
    bodies.push(response.body().then(body => [pathname, gzipSync(body, { level: 9 }).length]))
  })
  await open(smallArt().path)
  await ready(page)
  const sizes = await Promise.all(bodies)
  const sum = sizes.reduce((bytes, [, size]) => bytes + size, 0)
  console.log(
    `first picture: ${(sum / 1000).toFixed(0)} kB gzip, ${sizes.map(one => one.join(' ')).join(', ')}`,
  )
  expect(sizes.map(([name]) => name).join()).toContain('worker')
  expect(sum).toBeLessThanOrEqual(mostBytes)
})

test('the demo becomes a saved job: an edited effect, a moved lamp, a pin; undone to the start, done again', async ({
  open,
}) => {
  const { page, errors } = await open(demoJob)
  await ready(page)
  const before = await steady(page)
  const undo = page.getByRole('button', { name: 'Undo' })

  await page.locator('.coat', { hasText: 'Holography' }).getByRole('button').first().click()
  await page.locator('.card-head', { hasText: 'Holo lens rings' }).click()
  const pitch = page.getByLabel('Pitch', { exact: true }).first()
  const was = await pitch.inputValue()
  await pitch.fill(String(Number(was) + 150))
  await pitch.press('Enter')
  await ready(page)

  await page.getByLabel('Elevation').fill('40')
  await page.getByLabel('Elevation').press('Enter')
  const [x, y] = await middle(page)
  await page.mouse.click(x, y)
  await page.getByRole('button', { name: 'Keep as a pin' }).click()
  await page.mouse.move(5, 5)
  expect(changed(before, await steady(page))).toBeGreaterThan(0.01)

  const download = page.waitForEvent('download')
  await page.keyboard.press('Control+s')
  const saved = JSON.parse(readFileSync(await (await download).path(), 'utf8'))
  expect(saved.pins).toHaveLength(1)
  expect(saved.light.lamps[0].pose.elevationDeg).toBe(40)
  expect(JSON.stringify(saved.effects)).toContain(String(Number(was) + 150))
  await expect(page.locator('.what')).toContainText('Saved')

  while (await undo.isEnabled()) await undo.click()
  await expect(pitch).toHaveValue(was)
  await expect(page.getByLabel('Elevation')).toHaveValue('60')
  await page.getByRole('button', { name: 'Let go' }).click()
  await page.mouse.move(5, 5)
  // The line about the saved file lies over the picture; the map of the first effect is built again.
  await page.locator('.message').getByRole('button', { name: 'Close' }).click()
  await expect.poll(async () => changed(before, await steady(page)), { timeout: 90_000 }).toBeLessThan(0.01)
  const redo = page.getByRole('button', { name: 'Redo' })
  while (await redo.isEnabled()) await redo.click()
  await expect(pitch).toHaveValue(String(Number(was) + 150))
  expect(errors).toEqual([])
})

test('a page that is lost with unsaved work offers it again; the file of the user is as it was', async ({
  open,
}) => {
  const art = smallArt()
  const { page, home } = await open(art.path)
  await ready(page)
  await page.locator('.card-head', { hasText: 'Disc' }).click()
  await page.getByLabel('Role', { exact: true }).selectOption('varnish')
  const drafts = join(home, 'rakelight', 'drafts')
  await expect.poll(() => list(drafts)).toHaveLength(1)
  await letGo(page)
  await page.reload()
  const asks = page.getByRole('dialog', { name: 'Work was left unsaved' })
  await expect(asks).toContainText('small.psd')
  await asks.getByRole('button', { name: 'Take it up again' }).click()
  await ready(page)
  await expect(page.locator('.what')).toContainText('Changes not saved')
  await page.locator('.card-head', { hasText: 'Disc' }).click()
  await expect(page.getByLabel('Role', { exact: true })).toHaveValue('varnish')
  expect(readdirSync(art.folder)).toEqual(['small.psd'])
  const download = page.waitForEvent('download')
  await page.keyboard.press('Control+s')
  await download
  await expect.poll(() => list(drafts)).toHaveLength(0)
})

test('a server that is killed leaves the work for the next one', async ({ open }) => {
  const art = smallArt()
  const { page, kill, home } = await open(art.path)
  await ready(page)
  await page.getByRole('button', { name: 'Brief' }).click()
  await page.getByLabel('What is wanted').fill('A comet over a quiet front.')
  await expect.poll(() => drafted(home)).toContain('A comet over a quiet front.')
  await kill()
  await letGo(page)
  const again = await open()
  const asks = again.page.getByRole('dialog', { name: 'Work was left unsaved' })
  await asks.getByRole('button', { name: 'Take it up again' }).click()
  await ready(again.page)
  await again.page.getByRole('button', { name: 'Brief' }).click()
  await expect(again.page.getByLabel('What is wanted')).toHaveValue('A comet over a quiet front.')
})

test('a job begins without art and takes it later: effect and white go to its layers', async ({ open }) => {
  const { page } = await open()
  await page.getByLabel('Width').fill('40')
  await page.getByLabel('Height').fill('60')
  await page.getByRole('button', { name: 'Begin without art' }).click()
  await ready(page)
  await page.locator('.card-head', { hasText: 'Holography' }).click()
  await page.getByRole('button', { name: /^Effect: / }).click()
  await page.getByRole('radio', { name: 'Facets', exact: true }).check({ force: true })
  await ready(page)
  const chooser = page.waitForEvent('filechooser')
  await page.getByRole('button', { name: 'Lay the art' }).click()
  await (await chooser).setFiles(smallArt().path)
  await expect(page.locator('.what')).toContainText('small.psd')
  await ready(page)
  await page.locator('.card-head', { hasText: 'Holography lines' }).click()
  await expect(page.getByRole('button', { name: /^Effect: Facets\./ })).toBeVisible()
})

test('a job begins with a carton of a style and a size on its board, without art; the art comes onto it', async ({
  open,
}) => {
  const { page } = await open()
  await page.getByRole('radio', { name: 'a carton', exact: true }).check({ force: true })
  await page.getByLabel('Style').selectOption('crash-lock')
  await page.getByLabel('Length').fill('90')
  await page.getByLabel('Caliper').fill('0.5')
  await page.getByLabel('Width').fill('5')
  await page.getByRole('button', { name: 'Begin without art' }).click()
  await expect(page.getByRole('alert')).toContainText('Make the width larger')
  await page.getByLabel('Width').fill('45')
  await page.getByRole('button', { name: 'Begin without art' }).click()
  await ready(page)
  await expect(page.getByRole('slider', { name: 'Fold' })).toBeVisible()
  const card = page.getByRole('region', { name: 'Carton' })
  await expect(card).toContainText('90 × 45 × 100 mm')
  await expect(card).toContainText('Crash lock')
  const chooser = page.waitForEvent('filechooser')
  await page.getByRole('button', { name: 'Lay the art' }).click()
  await (await chooser).setFiles(smallArt().path)
  await expect(page.locator('.what')).toContainText('small.psd')
  await ready(page)
  await expect(card).toContainText('90 × 45 × 100 mm')
  await expect(page.getByRole('slider', { name: 'Fold' })).toBeVisible()
})

test('art that another program saves is read anew; roles stay, and a line says what changed', async ({
  open,
}) => {
  const art = smallArt()
  const { page } = await open(art.path)
  await ready(page)
  await page.locator('.card-head', { hasText: 'Disc' }).click()
  await page.getByLabel('Role', { exact: true }).selectOption('varnish')
  await ready(page)
  const later = readFileSync(smallArt().path)
  // The name of a layer, one letter changed: the same length everywhere.
  const name = later.indexOf('Disc')
  expect(name).toBeGreaterThan(0)
  for (let at = name; at >= 0; at = later.indexOf('Disc', at + 1)) later.write('Disk', at)
  for (let at = later.indexOf('D\0i\0s\0c'); at >= 0; at = later.indexOf('D\0i\0s\0c', at + 1))
    later[at + 6] = 0x6b
  writeFileSync(art.path, later)
  await expect(page.getByText('was saved again and read anew')).toBeVisible({ timeout: 30_000 })
  await expect(page.locator('.card-head', { hasText: /Dis[ck]/ })).toBeVisible()
  await page.getByRole('button', { name: /finding/ }).click()
  await expect(page.getByRole('dialog', { name: 'Findings' })).toContainText(
    'Roles, areas and effects were kept',
  )
  await page.keyboard.press('Escape')
  await page.locator('.coat', { hasText: 'Varnish' }).first().scrollIntoViewIfNeeded()
  await expect(page.locator('.coat > h2').getByText('Varnish')).toBeVisible()
})

test('designs side by side share lamp and pose; one is edited and the other stays', async ({ open }) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  await page.getByRole('button', { name: 'Try another design' }).click()
  await page.locator('.card-head', { hasText: 'name has "white"' }).click()
  await page.getByLabel('Opacity').fill('95')
  await page.getByLabel('Opacity').press('Enter')
  await ready(page)
  await page.locator('.table').first().focus()
  await page.keyboard.press('c')
  const designs = page.locator('.design')
  await expect(designs).toHaveCount(2)
  await expect(page.locator('.design canvas')).toHaveCount(2, { timeout: 60_000 })
  await drag(page, await middle(page), 40, -60)
  const poses = page.locator('.design .pose')
  await expect(poses.first()).toHaveText(/^Tilt \d+°$/)
  expect(await poses.nth(1).textContent()).toBe(await poses.first().textContent())
  await page.locator('.design', { hasText: 'Base' }).getByRole('button').click()
  await expect(page.getByLabel('Opacity')).toHaveValue('50')
  await page.locator('.design', { hasText: 'Effect-led' }).getByRole('button').click()
  await expect(page.getByLabel('Opacity')).toHaveValue('95')
})

test('everything is found by name, by keys alone', async ({ open }) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  await anything(page, 'clipping')
  await expect(page.getByLabel('Mark what the screen cannot show')).toBeChecked()
  await anything(page, 'dark window')
  await expect(page.locator('html')).toHaveAttribute('data-theme', 'dark')
  await page.reload()
  await expect(page.locator('html')).toHaveAttribute('data-theme', 'dark')
})

test('two fingers look closer and turn the panel', async ({ open }) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  const [x, y] = await middle(page)
  const session = await page.context().newCDPSession(page)
  const touch = (
    type: 'touchStart' | 'touchMove' | 'touchEnd',
    points: readonly (readonly [number, number])[],
  ) =>
    session.send('Input.dispatchTouchEvent', {
      type,
      touchPoints: points.map(([px, py], id) => ({ x: px, y: py, id })),
    })
  await touch('touchStart', [[x - 50, y]])
  await touch('touchStart', [
    [x - 50, y],
    [x + 50, y],
  ])
  await touch('touchMove', [
    [x - 90, y],
    [x + 90, y - 20],
  ])
  await touch('touchMove', [
    [x - 100, y],
    [x + 100, y - 40],
  ])
  await touch('touchEnd', [])
  await expect(page.locator('.pose')).toHaveText(/turn \d+° · (19|20|21)\d %/)
})

/** Everything that is kept of unsaved work. */
const drafted = (home: string): string => {
  const folder = join(home, 'rakelight', 'drafts')
  return list(folder)
    .map(name => readFileSync(join(folder, name), 'utf8'))
    .join()
}

const list = (folder: string): readonly string[] => {
  try {
    return readdirSync(folder)
  } catch {
    return []
  }
}
