import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { expect } from '@playwright/test'
import { coloursOf, test } from '../../support/served.ts'
import { changed, drag, middle, ready, smallArt, steady } from '../../support/table.ts'

const demoJob = fileURLToPath(new URL('../../../demo-assets/demo.job.json', import.meta.url))
const demoArt = fileURLToPath(new URL('../../../demo-assets/demo.psd', import.meta.url))

test('the demo job opens from the command line: stack in physical order, a picture, no complaint', async ({
  open,
}) => {
  const { page, origin, errors, requested } = await open(demoJob)
  await ready(page)
  await expect(page.locator('.coat > h2')).toContainText([
    'Overprint',
    'White',
    'Holography',
    'Foil on board',
  ])
  await expect(page.locator('.what')).toContainText('demo.psd')
  await expect(page.locator('.what')).toContainText('Saved')
  await steady(page)
  expect(await coloursOf(page)).toBeGreaterThan(1000)
  expect(errors).toEqual([])
  expect(requested.filter(address => !/^(blob|data):/.test(address) && !address.startsWith(origin))).toEqual(
    [],
  )
})

test('a drag tilts the panel as a hand would, a double click puts it straight again', async ({ open }) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  const straight = await steady(page)
  await drag(page, await middle(page), 60, -80)
  await expect(page.locator('.pose')).toHaveText(/^Tilt 2\d°$/)
  expect(changed(straight, await steady(page))).toBeGreaterThan(0.1)
  await page.mouse.dblclick(...(await middle(page)))
  await expect(page.locator('.pose')).toHaveText('Straight on')
  await page.getByRole('button', { name: 'Let go' }).click()
  await page.mouse.move(5, 5)
  expect(changed(straight, await steady(page))).toBeLessThan(0.01)
})

test('the lamp moves by its handle, by the pad and by number; undo brings the light back', async ({
  open,
}) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  const before = await steady(page)
  const handle = page.locator('[data-testid="lamp-handle"] .grip')
  const at = await handle.boundingBox()
  if (at === null) throw new Error('no lamp handle')
  await drag(page, [at.x + at.width / 2, at.y + at.height / 2], 120, 40)
  await expect(page.getByLabel('Azimuth')).not.toHaveValue('90')
  await expect(page.locator('.pose')).toHaveText('Straight on')
  expect(changed(before, await steady(page))).toBeGreaterThan(0.02)

  const pad = await page.getByRole('slider', { name: /Lamp over the table/ }).boundingBox()
  if (pad === null) throw new Error('no pad')
  await page.mouse.click(pad.x + pad.width * 0.25, pad.y + pad.height / 2)
  await expect(page.getByLabel('Azimuth')).toHaveValue('180')

  await page.getByLabel('Elevation').fill('30')
  await page.getByLabel('Elevation').press('Enter')
  const low = await steady(page)
  for (let i = 0; i < 3; i++) await page.getByRole('button', { name: 'Undo' }).click()
  await expect(page.getByLabel('Azimuth')).toHaveValue('90')
  await expect(page.getByLabel('Elevation')).toHaveValue('60')
  await expect(page.getByRole('button', { name: 'Undo' })).toBeDisabled()
  await page.mouse.move(5, 5)
  const back = await steady(page)
  expect(changed(low, back)).toBeGreaterThan(0.02)
  expect(changed(before, back)).toBeLessThan(0.01)
})

test('a second lamp adds its light, takes a form, and goes again by undo', async ({ open }) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  const one = await steady(page)
  await page.getByRole('button', { name: 'Add lamp' }).click()
  await expect(page.locator('.lamp-row')).toHaveCount(2)
  await expect(page.locator('.lamp-row').nth(1)).toHaveAttribute('aria-pressed', 'true')
  await expect(page.locator('[data-testid="lamp-handle"]')).toHaveCount(2)
  await page.mouse.move(5, 5)
  const two = await steady(page)
  expect(changed(one, two)).toBeGreaterThan(0.02)

  await page.getByText('Form, name, own spectrum').click()
  await page.getByLabel('Strip or rectangle').check({ force: true })
  await expect(page.getByLabel('Roll')).toHaveValue('0')
  await page.getByLabel('Roll').fill('45')
  await page.getByLabel('Roll').press('Enter')
  await page.keyboard.press('Escape')
  await expect(page.locator('.lamp-row').nth(1).getByRole('img', { name: 'strip' })).toBeVisible()
  await page.getByLabel('Spectrum', { exact: true }).selectOption('LED-B1')
  await expect(page.locator('.lamp-row').nth(1)).toContainText('LED-B1')
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect(page.locator('.lamp-row').nth(1)).not.toContainText('LED-B1')
  for (let i = 0; i < 3; i++) await page.getByRole('button', { name: 'Undo' }).click()
  await expect(page.locator('.lamp-row')).toHaveCount(1)
  await expect(page.getByRole('button', { name: 'Undo' })).toBeDisabled()
  await page.mouse.move(5, 5)
  expect(changed(one, await steady(page))).toBeLessThan(0.01)
})

test('a rig lights the table, says which it is, and undo brings the old light back', async ({ open }) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  const before = await steady(page)
  const rig = page.getByLabel('Light as in')
  await rig.selectOption({ label: 'Desk lamp in the evening' })
  await expect(page.locator('.lamp-row')).toHaveText(/Desk lamp.*Tungsten bulb · A.*500 lx/)
  await page.mouse.move(5, 5)
  const evening = await steady(page)
  expect(changed(before, evening)).toBeGreaterThan(0.05)
  await page.getByLabel('On the panel').fill('900')
  await page.getByLabel('On the panel').press('Enter')
  await expect(rig.locator('option:checked')).toHaveText('Lamps set by hand')
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect(rig.locator('option:checked')).toHaveText('Desk lamp in the evening')
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect(rig.locator('option:checked')).toHaveText('Lamps set by hand')
  await page.mouse.move(5, 5)
  expect(changed(before, await steady(page))).toBeLessThan(0.01)
})

test('a room is chosen by its name: foil mirrors more of it, the slider follows, undo brings the old room back', async ({
  open,
}) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  const office = await steady(page)
  await page.getByText('Eye and screen').click()
  const room = page.getByLabel('Room like')
  const level = page.getByLabel('Room', { exact: true })
  await expect(room.locator('option:checked')).toHaveText('Office or home')
  await room.selectOption({ label: 'By a window' })
  await expect(level).toHaveValue('0.35')
  await expect(page.getByText('An overcast sky fills half the room.')).toBeVisible()
  await page.keyboard.press('Escape')
  await page.mouse.move(5, 5)
  const window = await steady(page)
  expect(changed(office, window)).toBeGreaterThan(0.05)
  const light = ({ data }: typeof office) => Array.from(data).reduce((sum, code) => sum + code, 0)
  expect(light(window)).toBeGreaterThan(light(office))

  // A level of the user's own has no name; the list says so.
  await level.fill('0.42')
  await page.getByText('Eye and screen').click()
  await expect(room.locator('option:checked')).toHaveText('Of your own')
  await page.keyboard.press('Escape')
  await page.getByRole('button', { name: 'Undo' }).click()
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect(level).toHaveValue('0.15')
  await page.mouse.move(5, 5)
  expect(changed(office, await steady(page))).toBeLessThan(0.01)
})

test('a picture that the graphics card lets go of is told, comes back by itself, or is drawn anew by a button', async ({
  open,
}) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  await page.mouse.move(5, 5)
  const before = await steady(page)
  const told = page.getByText('The graphics card has let go of the picture')
  const canvas = page.locator('.picture canvas')
  const hold = await canvas.evaluateHandle(one =>
    (one as HTMLCanvasElement).getContext('webgl2')?.getExtension('WEBGL_lose_context'),
  )
  await hold.evaluate(card => card?.loseContext())
  await expect(told).toBeVisible()
  await expect(canvas).toBeHidden()
  await hold.evaluate(card => card?.restoreContext())
  await expect(told).toBeHidden()
  expect(changed(before, await steady(page))).toBeLessThan(0.01)

  await hold.evaluate(card => card?.loseContext())
  await page.getByRole('button', { name: 'Draw it again' }).click()
  await expect(told).toBeHidden()
  await page.mouse.move(5, 5)
  await expect.poll(async () => changed(before, await steady(page))).toBeLessThan(0.01)
})

test('without WebGL the window says so and the rest of it works', async ({ open, page }) => {
  await page.addInitScript(() => {
    HTMLCanvasElement.prototype.getContext = new Proxy(HTMLCanvasElement.prototype.getContext, {
      apply: (get, canvas, [kind, ...more]) =>
        String(kind).startsWith('webgl') ? null : Reflect.apply(get, canvas, [kind, ...more]),
    })
  })
  await open(smallArt().path)
  await expect(page.getByText('There is no WebGL 2 here')).toBeVisible({ timeout: 90_000 })
  await page.getByLabel('Elevation').fill('40')
  await page.getByLabel('Elevation').press('Enter')
  await expect(page.getByRole('button', { name: 'Undo' })).toBeEnabled()
})

test('what the screen cannot show is hatched, stands still, and is told at the spot', async ({ open }) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  const plain = await steady(page)
  await page.keyboard.press('o')
  await expect(page.getByLabel('What the screen cannot show', { exact: true })).toContainText('3 to 6 stops')
  await expect(page.getByLabel('Mark what the screen cannot show')).toBeChecked()
  // Wide open, most of the lit foil is over the screen's white.
  await page.getByRole('slider', { name: 'Exposure' }).fill('6')
  await page.mouse.move(5, 5)
  const marked = await steady(page)
  await page.waitForTimeout(500)
  expect(changed(marked, await steady(page))).toBe(0)
  await page.locator('.table').press('Enter')
  await expect(page.getByLabel('Spot', { exact: true })).toContainText(
    /stops over paper white; the screen cannot show it|purer than the screen can show/,
  )
  await page.keyboard.press('Escape')
  await page.getByRole('slider', { name: 'Exposure' }).fill('0')
  await page.getByLabel('Mark what the screen cannot show').uncheck()
  await page.mouse.move(5, 5)
  expect(changed(plain, await steady(page))).toBeLessThan(0.01)
})

test('a spectrum of the user’s own burns in the lamp; a file with a gap is refused in one line', async ({
  open,
}) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  await page.getByText('Form, name, own spectrum').click()
  const file = page.getByLabel('Spectrum from a file')
  const lines = (value: (nm: number) => string) =>
    Buffer.from(Array.from({ length: 41 }, (_, i) => `${380 + 10 * i},${value(380 + 10 * i)}`).join('\n'))
  const broken = lines(nm => (nm === 500 ? '' : '1'))
  await file.setInputFiles({ name: 'gap.csv', mimeType: 'text/csv', buffer: broken })
  await expect(page.getByRole('alert')).toContainText('gap.csv')
  await file.setInputFiles({ name: 'own.csv', mimeType: 'text/csv', buffer: lines(nm => String(nm - 300)) })
  await expect(page.locator('.lamp-row')).toContainText('Spectrum of your own')
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect(page.locator('.lamp-row')).toContainText('D65')
})

test('a changed role rebuilds the map, and undo takes it back', async ({ open }) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  const before = await steady(page)
  await page.locator('.card-head', { hasText: 'Disc' }).click()
  await page.getByLabel('Role', { exact: true }).selectOption('white')
  await expect(page.locator('.coat', { hasText: 'Disc' }).locator('h2')).toHaveText('White')
  await expect(page.locator('.what')).toContainText('Changes not saved')
  await ready(page)
  const white = await steady(page)
  expect(changed(before, white, 20)).toBeGreaterThan(0.01)
  await page.keyboard.press('Control+z')
  await expect(page.locator('.coat', { hasText: 'Disc' }).locator('h2')).toHaveText('Overprint')
  await ready(page)
  expect(changed(before, await steady(page), 20)).toBeLessThan(0.005)
})

test('white has three numbers; opacity and hits are assumed until somebody says otherwise', async ({
  open,
}) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  await page.locator('.card-head', { hasText: 'name has "white"' }).click()
  const opacity = page.getByLabel('Opacity')
  await expect(opacity).toHaveValue('50')
  await expect(page.locator('.card.open').getByText('assumed', { exact: true })).toHaveCount(2)
  const thin = await steady(page)
  await opacity.fill('90')
  await opacity.press('Enter')
  await ready(page)
  await expect(page.locator('.card.open').getByText('assumed', { exact: true })).toHaveCount(0)
  expect(changed(thin, await steady(page))).toBeGreaterThan(0.01)
  await opacity.fill('190')
  await expect(page.getByRole('alert')).toHaveText('0 to 100')
})

test('what a card holds stays inside it: a spot ink, the board with its numbers, the print condition', async ({
  open,
}) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  const outside = () =>
    page.locator('.card.open').evaluate(card => {
      const { left, right, top, bottom } = card.getBoundingClientRect()
      return [...card.querySelectorAll('input, select, textarea, button, p, label, legend, svg')]
        .filter(one => one.checkVisibility() && one.closest('.unseen') === null)
        .filter(one => {
          const box = one.getBoundingClientRect()
          return box.left < left - 1 || box.right > right + 1 || box.top < top - 1 || box.bottom > bottom + 1
        })
        .map(one => one.outerHTML.slice(0, 80))
    })
  await page.locator('.card-head', { hasText: 'Disc' }).click()
  await page.getByLabel('Role', { exact: true }).selectOption('spotInk')
  await expect(page.getByLabel('Reflectance of the solid on white board')).toBeVisible()
  expect(await outside()).toEqual([])
  await page.locator('.card-head', { hasText: 'mm' }).click()
  await page.getByText('Numbers of the board').click()
  await expect(page.getByLabel('Waviness')).toBeVisible()
  expect(await outside()).toEqual([])
  await page.locator('.card-head', { hasText: 'mm' }).click()
  await page.locator('.card-head', { hasText: 'intent' }).click()
  await expect(page.getByLabel('Rendering intent')).toBeVisible()
  expect(await outside()).toEqual([])
})

test('a spot tells what lies there and what reaches the eye', async ({ open }) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  await steady(page)
  const [x, y] = await middle(page)
  await page.mouse.click(x, y)
  const spot = page.getByLabel('Spot', { exact: true })
  await expect(spot.getByLabel('x, mm')).toHaveValue('20.0')
  await expect(spot).toContainText('lines/mm')
  await expect(spot).toContainText(/\d × paper white, hue \d+°/)
  await spot.getByLabel('y, mm').fill('50')
  await spot.getByLabel('y, mm').press('Enter')
  await expect(spot).toContainText('coverage 100 %')
  await expect(spot).toContainText('L*')
})

test('a job saved by download opens again by upload, and asks for its art', async ({ open }) => {
  const { page } = await open()
  await expect(page.getByText('jobs are saved to your downloads')).toBeVisible()
  const art = smallArt()
  const pick = async (button: string, file: string | ReturnType<typeof copyAs>) => {
    const chooser = page.waitForEvent('filechooser')
    await page.getByRole('button', { name: button }).click()
    await (await chooser).setFiles(file)
  }
  await pick('Open art or a job', art.path)
  await ready(page)
  await page.locator('.card-head', { hasText: 'Disc' }).click()
  await page.getByLabel('Role', { exact: true }).selectOption('varnish')
  const download = page.waitForEvent('download')
  await page.keyboard.press('Control+s')
  const saved = await download
  expect(saved.suggestedFilename()).toBe('small.job.json')
  await expect(page.locator('.message')).toContainText('small.job.json went to your downloads')
  const path = await saved.path()
  expect(JSON.parse(readFileSync(path, 'utf8')).roles).toHaveLength(1)

  await page.reload()
  await pick('Open art or a job', copyAs(path, 'small.job.json'))
  await expect(page.getByRole('dialog', { name: 'Now the art' })).toBeVisible()
  await pick('Pick the art', smallArt('renamed.psd').path)
  await ready(page)
  await expect(page.locator('.coat', { hasText: 'Disc' }).locator('h2')).toHaveText('Varnish')
  await expect(page.locator('.what')).toContainText('Saved')
})

test('other art under a job is not taken without a second word', async ({ open }) => {
  const { page } = await open()
  const chooser = page.waitForEvent('filechooser')
  await page.getByRole('button', { name: 'Open art or a job' }).click()
  await (await chooser).setFiles(demoJob)
  await expect(page.getByRole('dialog', { name: 'Now the art' })).toBeVisible()
  const again = page.waitForEvent('filechooser')
  await page.getByRole('button', { name: 'Pick the art' }).click()
  await (await again).setFiles(smallArt().path)
  const other = page.getByRole('dialog', { name: 'This is not the same art' })
  await expect(other).toContainText('small.psd differs from the file')
  await other.getByRole('button', { name: 'Leave it' }).click()
  await expect(page.getByRole('button', { name: 'Open art or a job' })).toBeVisible()
})

test('an import can be stopped, and opening works afterwards', async ({ open }) => {
  const { page } = await open()
  const pick = async (file: string) => {
    const chooser = page.waitForEvent('filechooser')
    await page.getByRole('button', { name: 'Open art or a job' }).click()
    await (await chooser).setFiles(file)
  }
  await pick(demoArt)
  const work = page.getByRole('status').filter({ hasText: 'Reading demo.psd' })
  await work.getByRole('button', { name: 'Cancel' }).click()
  await expect(work).toHaveCount(0)
  await expect(page.locator('.stack')).toHaveCount(0)
  await pick(smallArt().path)
  await ready(page)
})

test('a broken file gives one line that says what to do', async ({ open }) => {
  const { page } = await open()
  const chooser = page.waitForEvent('filechooser')
  await page.getByRole('button', { name: 'Open art or a job' }).click()
  const cut = readFileSync(smallArt().path).subarray(0, 30)
  await (await chooser).setFiles({ name: 'cut.psd', mimeType: 'application/octet-stream', buffer: cut })
  await expect(page.getByRole('alert')).toContainText('cut.psd')
  await page.getByRole('button', { name: 'Close' }).click()
  await expect(page.getByRole('alert')).toHaveCount(0)
})

test('a dropped file opens', async ({ open }) => {
  const { page } = await open()
  const bytes = readFileSync(smallArt().path).toString('base64')
  const transfer = await page.evaluateHandle(async data => {
    const made = new DataTransfer()
    const binary = atob(data)
    const file = Uint8Array.from(binary, letter => letter.charCodeAt(0))
    made.items.add(new File([file], 'dropped.psd'))
    return made
  }, bytes)
  await page.dispatchEvent('.app', 'drop', { dataTransfer: transfer })
  await ready(page)
  await expect(page.locator('.what')).toContainText('dropped.psd')
})

test('a light run plays calmly, and stands still under reduced motion', async ({ open }) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  const still = await steady(page)
  await page.getByRole('button', { name: 'Play' }).click()
  await expect(page.locator('.pose')).toHaveText(/^Tilt \d/)
  await page.getByRole('button', { name: 'Hold' }).click()
  expect(changed(still, await steady(page))).toBeGreaterThan(0.05)
  await page.getByRole('button', { name: 'Back to my light' }).click()
  await expect(page.locator('.pose')).toHaveText('Straight on')

  await page.emulateMedia({ reducedMotion: 'reduce' })
  await expect(page.getByRole('button', { name: 'Play' })).toHaveCount(0)
  await expect(page.getByText('runs stand still')).toBeVisible()
  await page.getByRole('button', { name: 'Step on' }).click()
  await expect(page.locator('.time')).toHaveText('0.7 of 16.0 s')
  const stepped = await steady(page)
  await page.waitForTimeout(1000)
  expect(changed(stepped, await steady(page))).toBe(0)
})

test('everything of a first look works by keys alone', async ({ open }) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  const before = await steady(page)
  await page.keyboard.press('ArrowUp')
  await page.keyboard.press('ArrowRight')
  await expect(page.locator('.pose')).toHaveText('Tilt 3°')
  await page.keyboard.press('Home')
  await expect(page.locator('.pose')).toHaveText('Straight on')
  await page.keyboard.press('Shift+ArrowRight')
  await expect(page.getByLabel('Azimuth')).toHaveValue('87')
  await page.keyboard.press('.')
  await expect(page.getByRole('slider', { name: 'Exposure' })).toHaveValue('0.25')
  expect(changed(before, await steady(page))).toBeGreaterThan(0.05)
  await page.keyboard.press('Enter')
  await expect(page.getByLabel('Spot', { exact: true })).toContainText('lines/mm')
  await page.keyboard.press('F1')
  await expect(page.getByRole('heading', { name: 'What is assumed' })).toBeVisible()
  await page.keyboard.press('Escape')
  await expect(page.getByRole('heading', { name: 'What is assumed' })).toHaveCount(0)
  await page.keyboard.press('b')
  await expect(page.locator('.stack')).toBeHidden()
  await page.keyboard.press('b')

  // From the header through the stack to the table and the light: each stop shows where it is.
  const seen = new Set<string>()
  for (let i = 0; i < 60; i++) {
    await page.keyboard.press('Tab')
    const stop = await page.evaluate(() => {
      const at = document.activeElement
      // Past the last stop the focus leaves the page, to come back at its top.
      if (at === null || at === document.body) return null
      const well = at.closest('.well, .choice, .tick, .file')
      const name = at.getAttribute('aria-label') ?? at.textContent ?? ''
      const ring = getComputedStyle(at).outlineStyle !== 'none' || well !== null
      return ring ? name.slice(0, 40) : `no ring: ${at.tagName} ${name}`
    })
    if (stop !== null) seen.add(stop)
  }
  expect([...seen].filter(name => name.startsWith('no ring'))).toEqual([])
  expect([...seen].some(name => name.startsWith('The panel on the table'))).toBe(true)
  expect([...seen].some(name => name.startsWith('Lamp over the table'))).toBe(true)
  expect([...seen].some(name => name.startsWith('Place in the light run'))).toBe(true)
})

test('unsaved decisions are asked about before the window closes and before other art is opened', async ({
  open,
}) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  await page.locator('.card-head', { hasText: 'Disc' }).click()
  await page.getByLabel('Role', { exact: true }).selectOption('varnish')
  await page.getByRole('button', { name: 'Open', exact: true }).click()
  await page.getByRole('button', { name: 'Stay here' }).click()
  const leaving = page.waitForEvent('dialog')
  await page.close({ runBeforeUnload: true })
  const dialog = await leaving
  expect(dialog.type()).toBe('beforeunload')
  await dialog.accept()
})

/** A downloaded file under the name it was given. */
function copyAs(path: string, name: string) {
  return { name, mimeType: 'application/json', buffer: readFileSync(path) }
}
