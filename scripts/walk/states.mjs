// Every state of the window, one after another: for who looks at pictures of it, and for who checks it.
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { inexactPage, plateFolder, severalPages } from './art.mjs'

/**
 * @typedef {import('@playwright/test').Page} Page
 * @typedef {{ readonly name: string, readonly go: (page: Page) => Promise<unknown> }} State
 *   `go` leads from the state before it
 * @typedef {{ readonly name: string, readonly file: import('./jobs.mjs').Opened, readonly states: readonly State[] }} Sitting
 *   one opening of the app: with nothing, or with a job
 */

/** @param {string} name @param {(page: Page) => Promise<unknown>} go @returns {State} */
const state = (name, go) => ({ name, go })

/** @param {Page} page @param {string | RegExp} name */
const press = (page, name) => page.getByRole('button', { name, exact: typeof name === 'string' }).click()

/** Of several that are called so. @param {Page} page @param {string | RegExp} name */
const pressFirst = (page, name) => page.getByRole('button', { name }).first().click()

/** Opens a card of the stack by its words, and brings it up. @param {Page} page @param {string} words */
async function card(page, words) {
  const head = page.locator('.stack .card-head', { hasText: words }).first()
  await head.click()
  await head.evaluate(one => one.scrollIntoView({ block: 'start' }))
}

/** @param {Page} page @param {string} coat */
const unfold = (page, coat) => page.locator('.coat', { hasText: coat }).locator('.fold').first().click()

/** A sheet is closed and the next one opened. @param {Page} page @param {string | RegExp} name */
async function sheet(page, name) {
  await page.keyboard.press('Escape')
  await press(page, name)
  await page.getByRole('dialog').waitFor()
}

/** A part of the open sheet. @param {Page} page @param {string} name */
const part = (page, name) =>
  page.getByRole('dialog').getByRole('radio', { name, exact: true }).check({ force: true })

/** A place on the table; right and up of its middle, parts of its size. @param {Page} page @param {number} right @param {number} up */
export async function place(page, right = 0, up = 0) {
  const box = await page.locator('.table').first().boundingBox()
  if (box === null) throw new Error('no table')
  return /** @type {const} */ ([box.x + box.width * (0.5 + right), box.y + box.height * (0.5 - up)])
}

/** A drag over the table between two such places. @param {Page} page @param {readonly [number, number]} from @param {readonly [number, number]} to */
async function drag(page, from, to) {
  await page.mouse.move(...(await place(page, ...from)))
  await page.mouse.down()
  await page.mouse.move(...(await place(page, ...to)), { steps: 4 })
  await page.mouse.up()
}

/** Nothing is read or built any more. @param {Page} page */
export async function ready(page) {
  await page.locator('.picture canvas').first().waitFor({ timeout: 300_000 })
  await page.locator('.stack[aria-busy="false"]').waitFor({ timeout: 300_000 })
}

/** @param {Page} page @param {string} style */
const styled = (page, style) =>
  page.getByRole('region', { name: 'Carton' }).getByLabel('Style').selectOption({ label: style })

const styles = ['straight tuck', 'reverse tuck', 'snap lock', 'crash lock', 'seal end', 'sleeve']

/** @param {string} name @returns {string} */
const die = name => fileURLToPath(new URL(`../../tests/fixtures/dies/${name}.svg`, import.meta.url))

/** @param {Page} page @param {string} name */
async function draw(page, name) {
  const chooser = page.waitForEvent('filechooser')
  await page.getByText('Read a dieline drawing').first().click()
  await (await chooser).setFiles(die(name))
  await ready(page)
}

/** @param {string} name @returns {string} */
const demo = name => fileURLToPath(new URL(`../../demo-assets/${name}`, import.meta.url))

/** Chooses what is opened next. @param {Page} page @param {string | RegExp} button @param {Parameters<import('@playwright/test').FileChooser['setFiles']>[0]} files */
async function opened(page, button, files) {
  const chooser = page.waitForEvent('filechooser')
  await press(page, button)
  await (await chooser).setFiles(files)
}

/** The art of that name lies on the table. @param {Page} page @param {string} name */
async function lies(page, name) {
  await page.locator('.what', { hasText: name }).waitFor({ timeout: 120_000 })
  await ready(page)
}

/** @param {Page} page */
async function howRead(page) {
  await page.locator('.read-as').evaluate(one => {
    if (one instanceof HTMLDetailsElement) one.open = true
    one.scrollIntoView({ block: 'start' })
  })
  await page.locator('.read-as .facts').waitFor()
}

/** @param {Page} page @param {string | RegExp} name */
const asks = (page, name) => page.getByRole('dialog', { name }).waitFor()

/** Unsaved work is written down at the latest after this, ms. */
const keptMs = 5000

/** @type {readonly Sitting[]} */
export const sittings = [
  {
    name: 'begin',
    file: 'none',
    states: [
      state('empty', page => page.getByRole('button', { name: 'Begin without art' }).waitFor()),
      state('empty-help', page => page.keyboard.press('F1')),
      state('empty-anything', async page => {
        await page.keyboard.press('Escape')
        await page.keyboard.press('F2')
      }),
      state('no-art', async page => {
        await page.keyboard.press('Escape')
        await press(page, 'Begin without art')
        await ready(page)
      }),
      state('no-art-brief', page => press(page, 'Brief')),
      state('no-art-card', async page => {
        await page.keyboard.press('Escape')
        await card(page, 'Holography')
      }),
      state('kinds', page => page.getByRole('button', { name: /^Effect: / }).click()),
    ],
  },
  {
    name: 'flat',
    file: 'demo',
    states: [
      state('table', ready),
      state('overprint', page => unfold(page, 'Overprint')),
      state('overprint-card', page => card(page, 'Title')),
      state('white-card', async page => {
        await unfold(page, 'Overprint')
        await card(page, 'name has "white"')
      }),
      state('holography', page => unfold(page, 'Holography')),
      ...['star rays', 'comet tail', 'lens rings', 'Holo lines', 'Milky Way'].map(name =>
        state(`effect-${name.replace(' ', '-').toLowerCase()}`, page => card(page, name)),
      ),
      state('register-and-tones', page => page.getByText('Register and tones').first().click()),
      state('print-card', async page => {
        await card(page, 'Milky Way')
        await unfold(page, 'Holography')
        await card(page, 'intent')
      }),
      state('board-card', page => card(page, '× 150 mm')),
      state('board-numbers', page => page.getByText('Numbers of the board').click()),
      state('not-printed', page => page.getByText(/^Not printed/).click()),
      state('words', page => page.getByText(/^Your words/).click()),
      state('lamp-form', page => page.getByText('Form, name, own spectrum').click()),
      state('screen', page => page.getByText('Eye and screen').click()),
      state('six-lamps', async page => {
        await page.keyboard.press('Escape')
        for (let i = 0; i < 5; i++) await press(page, 'Add lamp')
      }),
      state('rig', page => page.getByLabel('Light as in').selectOption({ index: 3 })),
      state('marks', page => page.getByLabel('Mark what the screen cannot show').check()),
    ],
  },
  {
    name: 'asked',
    file: 'asked',
    states: [
      state('role-asked', async page => {
        await ready(page)
        await page.getByRole('button', { name: /question/ }).click()
      }),
    ],
  },
  {
    name: 'sheets',
    file: 'demo',
    states: [
      state('findings', async page => {
        await ready(page)
        await sheet(page, /finding/)
      }),
      state('assumed', page => sheet(page, 'Assumed')),
      state('brief', page => sheet(page, 'Brief')),
      state('help', page => sheet(page, 'Help')),
      state('anything', page => sheet(page, 'Do anything')),
      state('anything-typed', page => page.keyboard.type('tilt')),
      state('refused', async page => {
        await page.keyboard.press('Escape')
        const chooser = page.waitForEvent('filechooser')
        await press(page, 'Open')
        await (await chooser).setFiles({
          name: 'front of the carton, third round.psd',
          mimeType: 'application/octet-stream',
          buffer: Buffer.from('8BPS and nothing more'),
        })
        await page.locator('.message.error').waitFor()
      }),
    ],
  },
  {
    name: 'checks',
    file: 'demo',
    states: [
      state('checks-before', async page => {
        await ready(page)
        await sheet(page, 'Checks')
      }),
      state('checks-running', async page => {
        await press(page, 'Run the checks')
        await page.getByRole('progressbar', { name: 'Checking' }).waitFor()
      }),
      state('checks-found', page =>
        page.getByRole('button', { name: 'Run again' }).waitFor({ timeout: 300_000 }),
      ),
      state('checks-shown', page => pressFirst(page, /^Show it/)),
      state('checks-let-stand', page => pressFirst(page, 'Let it stand…')),
      state('checks-light', page =>
        page.getByRole('radio', { name: 'Light', exact: true }).check({ force: true }),
      ),
      state('checks-frames', async page => {
        await page.locator('.frames canvas').nth(2).waitFor({ timeout: 120_000 })
        await page.getByRole('heading', { name: /^Brightest, darkest/ }).scrollIntoViewIfNeeded()
      }),
      state('checks-limits', async page => {
        await page.getByLabel('Limits', { exact: true }).check({ force: true })
        await page.locator('.limits-page summary').nth(1).click()
      }),
      state('checks-limit-of-its-own', page => pressFirst(page, /^Set another/)),
      state('checks-marks-none', page => page.getByLabel('Marks', { exact: true }).check({ force: true })),
      state('checks-marks', page =>
        page.locator('.marks-page').getByRole('button', { name: 'Put one in the middle' }).click(),
      ),
    ],
  },
  {
    name: 'proofs',
    file: 'demo',
    states: [
      state('proofs-send', async page => {
        await ready(page)
        await sheet(page, 'Proofs')
      }),
      state('proofs-movie', page => page.getByRole('button', { name: /^Movie/ }).click()),
      state('proofs-pictures', page => page.getByRole('button', { name: /^Pictures/ }).click()),
      state('proofs-plates', page => press(page, /^Plates/)),
      state('proofs-sheet', page => press(page, /^Proof sheet/)),
      state('proofs-versions-none', page => part(page, 'Versions')),
      state('proofs-page', async page => {
        await part(page, 'Send out')
        await press(page, /^One-file proof/)
      }),
      state('proofs-page-made', async page => {
        await page.getByLabel('Run the checks, and tell what they found').uncheck()
        await press(page, 'Make the proof')
        await page.getByText('It is version').waitFor({ timeout: 180_000 })
      }),
      state('proofs-versions', page => part(page, 'Versions')),
      state('proofs-compared', async page => {
        await page.getByLabel('Elevation').fill('50')
        await page.getByLabel('Elevation').press('Enter')
        await press(page, 'Compare them')
        await page.getByText('With a bar').waitFor({ timeout: 180_000 })
      }),
      state('proofs-bar', page => page.getByLabel('With a bar').check({ force: true })),
      state('proofs-turns', page => page.getByLabel('By turns').check({ force: true })),
      state('proofs-difference', page => page.getByLabel('Difference').check({ force: true })),
      state('proofs-notes-none', page => part(page, 'Notes')),
      state('proofs-note-placed', async page => {
        await press(page, 'Put a note on the carton')
        await press(page, 'In the middle')
        await page.getByLabel(/^New note at/).waitFor()
      }),
      state('proofs-notes', async page => {
        await page.getByLabel(/^New note at/).fill('The comet tail is too dark here.')
        await page.getByLabel('Who says so').fill('Ana')
        await press(page, 'Keep the note')
        await press(page, 'Settle note 1')
        await press(page, 'Settle it')
        await page.getByText('settles it').waitFor()
        await press(page, 'Show note 1')
        await press(page, 'Answer note 1')
      }),
      state('proofs-sign-none', page => part(page, 'Sign-off')),
      state('proofs-asked', async page => {
        await press(page, 'Ask people…')
        await page.getByLabel('Name', { exact: true }).fill('Ana')
        await page.getByLabel('Who asks').fill('Jo')
      }),
      state('proofs-decides', async page => {
        await press(page, 'Ask them')
        await press(page, 'Sign…')
        await page.getByLabel('Looked at in').selectOption({ index: 1 })
        await page.getByLabel('On which screen').fill('desk display')
      }),
      state('proofs-signed', async page => {
        await page.getByRole('button', { name: 'Sign', exact: true }).click()
        await page.getByText('It stands').waitFor()
      }),
      state('proofs-superseded', async page => {
        await page.getByLabel('Elevation').fill('40')
        await page.getByLabel('Elevation').press('Enter')
        await page.locator('.standing.off').waitFor({ timeout: 30_000 })
        await page.locator('.standing summary').click()
      }),
    ],
  },
  {
    name: 'pictures',
    file: 'demo',
    states: [
      state('slips-before', async page => {
        await ready(page)
        await sheet(page, 'Checks')
        await page.getByLabel('Register', { exact: true }).check({ force: true })
        await page.getByLabel('To the right').waitFor()
      }),
      state('slips-worst', async page => {
        await press(page, 'Find what shows')
        await page.getByRole('button', { name: 'At tolerance, worst' }).click({ timeout: 300_000 })
      }),
      state('white-chosen', async page => {
        await page.getByRole('radio', { name: 'White' }).first().check({ force: true })
        const under = page.getByRole('group', { name: 'White under' }).getByRole('checkbox')
        for (const i of [2, 3, 4]) await under.nth(i).check()
        await press(page, 'Show it before and after')
        await page.getByText('With the made one').waitFor({ timeout: 300_000 })
      }),
      state('white-taken', async page => {
        await press(page, 'Take it')
        await page.getByText('The job has it').waitFor()
      }),
      state('account', async page => {
        await page.getByLabel('Account', { exact: true }).check({ force: true })
        await press(page, 'Count the holography')
        await page.getByText('of holography is seen').waitFor({ timeout: 300_000 })
      }),
      state('account-numbers', page => page.getByText('The same in numbers').click()),
    ],
  },
  {
    name: 'type',
    file: 'demo',
    states: [
      state('before', async page => {
        await ready(page)
        await sheet(page, 'Checks')
        await page.getByRole('radio', { name: 'Light', exact: true }).check({ force: true })
      }),
      state('read', async page => {
        await press(page, 'Read the type in all views')
        await page.getByRole('list', { name: 'Type over all views' }).waitFor({ timeout: 300_000 })
      }),
      state('plot', async page => {
        await page.getByRole('button', { name: 'Contrast over tilt' }).first().click()
        await page
          .locator('.type-plot')
          .first()
          .evaluate(one => one.scrollIntoView({ block: 'center' }))
      }),
      state('worst', page => page.getByRole('button', { name: 'Show it at its worst' }).first().click()),
    ],
  },
  {
    name: 'lamp-places',
    file: 'demo',
    states: [
      state('flashes', async page => {
        await ready(page)
        await sheet(page, 'Checks')
        await page.getByRole('radio', { name: 'Light', exact: true }).check({ force: true })
        await press(page, 'Find the flashes of each panel')
        await page.getByRole('img', { name: /^Flashes of/ }).waitFor({ timeout: 400_000 })
        await page.getByRole('button', { name: 'Put lamp and eye there' }).scrollIntoViewIfNeeded()
      }),
      state('light-heat', async page => {
        await press(page, 'Tilt every place')
        await page.getByRole('img', { name: /^Light of every place/ }).waitFor({ timeout: 400_000 })
        await page.getByRole('heading', { name: 'Light of every place' }).scrollIntoViewIfNeeded()
      }),
      state('light-heat-brightest', async page => {
        await page.getByRole('radio', { name: 'At its brightest' }).check({ force: true })
        await page.getByText('Foil goes from dark to dazzling').scrollIntoViewIfNeeded()
      }),
    ],
  },
  {
    name: 'spot',
    file: 'demo',
    states: [
      state('spot-under', async page => {
        await ready(page)
        await page.mouse.move(...(await place(page, -0.05, -0.05)))
        await page.locator('.spot').waitFor()
      }),
      state('spot', async page => page.mouse.click(...(await place(page, -0.05, -0.05)))),
      state('spot-closer', async page => {
        await press(page, 'Look closer')
        await page.locator('.polar path').first().waitFor({ timeout: 120_000 })
      }),
      state('spot-pins', async page => {
        await press(page, 'Keep as a pin')
        await page.locator('.spot-body').evaluate(one => {
          one.scrollTop = one.scrollHeight
        })
      }),
      state('unsaved', async page => {
        await press(page, 'Open')
        await page.getByRole('dialog', { name: 'Save the job first?' }).waitFor()
      }),
    ],
  },
  {
    name: 'areas',
    file: 'demo',
    states: [
      state('draw-rectangle', async page => {
        await ready(page)
        await press(page, 'Rectangle')
      }),
      state('rectangle-drawn', async page => {
        await drag(page, [-0.08, 0.15], [0.06, -0.08])
        await ready(page)
      }),
      state('draw-polygon', async page => {
        await press(page, 'Polygon')
        await page.locator('.draw-over.drawing').waitFor()
        for (const [right, up] of [
          [-0.06, -0.2],
          [0.02, -0.18],
          [0.06, -0.28],
        ])
          await page.mouse.click(...(await place(page, right, up)))
      }),
      state('polygon-drawn', async page => {
        await press(page, 'Close it')
        await ready(page)
      }),
      state('area-card', page =>
        page
          .getByLabel('Drawn areas')
          .locator('.card.open')
          .evaluate(one => one.scrollIntoView({ block: 'start' })),
      ),
    ],
  },
  {
    name: 'run',
    file: 'demo',
    states: [
      state('key-card', async page => {
        await ready(page)
        await page.locator('.run .key').nth(1).click()
      }),
      state('key-eye', page => page.getByLabel('What stands where').selectOption('Eye')),
      state('key-waits', page => page.getByLabel('How the run passes it').selectOption('Waits, then jumps')),
      state('run-set-up', async page => {
        await page.keyboard.press('Escape')
        await page.locator('.run .more summary').click()
      }),
      state('counting', async page => {
        await page.keyboard.press('Escape')
        await press(page, 'Count its flashes')
      }),
    ],
  },
  {
    name: 'leaves',
    file: 'demo',
    states: [
      state('leaves', async page => {
        await ready(page)
        await press(page, 'Leaves')
      }),
      state('leaves-lifted', async page => {
        await page.getByLabel('Lift', { exact: true }).fill('0.4')
        await page.locator('.table').focus()
        for (let i = 0; i < 12; i++) await page.keyboard.press('ArrowUp')
      }),
      state('film-proof', async page => {
        await page.getByLabel('Lift', { exact: true }).fill('0')
        await page.getByRole('radio', { name: 'As a film proof' }).check({ force: true })
      }),
      state('print-beside-proof', async page => {
        await press(page, 'Beside each other')
        await page.locator('.design canvas').nth(1).waitFor({ timeout: 300_000 })
      }),
      state('print-beside-proof-numbers', page => page.getByRole('button', { name: /^Leaves/ }).click()),
      state('print-beside-proof-spot', async page => {
        await page.getByRole('button', { name: /^Leaves/ }).click()
        await page.locator('.design .table').nth(1).click()
        await page.locator('.spot .beside').waitFor({ timeout: 120_000 })
      }),
    ],
  },
  {
    name: 'carton',
    file: 'demo',
    states: [
      state('carton', async page => {
        await ready(page)
        await press(page, 'Fold it into a carton')
        await page
          .getByRole('region', { name: 'Carton' })
          .evaluate(one => one.scrollIntoView({ block: 'start' }))
      }),
      state('half-folded', page => page.getByLabel('Fold', { exact: true }).fill('0.5')),
      state('blank', page => page.getByLabel('Fold', { exact: true }).fill('0')),
      ...styles.map(style =>
        state(style.replace(' ', '-'), async page => {
          await page.getByLabel('Fold', { exact: true }).fill('1')
          await styled(page, style)
        }),
      ),
      state('each-fold', async page => {
        const folds = page.getByText('Each fold')
        await folds.click()
        await folds.evaluate(one => one.scrollIntoView({ block: 'start' }))
      }),
      state('allowances', async page => {
        const allowances = page.getByText('Allowances')
        await allowances.click()
        await allowances.evaluate(one => one.scrollIntoView({ block: 'start' }))
      }),
      state('no-carton', async page => {
        const width = page.getByRole('region', { name: 'Carton' }).getByLabel('Width', { exact: true })
        await width.fill('1')
        await width.press('Enter')
      }),
    ],
  },
  {
    name: 'die',
    file: 'demo',
    states: [
      state('drawn', async page => {
        await ready(page)
        await draw(page, 'eyepiece')
        await page
          .getByRole('region', { name: 'Carton' })
          .evaluate(one => one.scrollIntoView({ block: 'start' }))
      }),
      state('drawn-half-folded', page => page.getByLabel('Fold', { exact: true }).fill('0.5')),
      state('drawn-folds', async page => {
        const folds = page.getByText('Each fold')
        await folds.click()
        await folds.evaluate(one => one.scrollIntoView({ block: 'start' }))
      }),
      state('drawn-with-faults', page => draw(page, 'eyepiece-faults')),
      state('die-findings', page => sheet(page, /finding/)),
    ],
  },
  {
    name: 'flashes',
    file: 'flashes',
    states: [
      state('flashes-too-often', async page => {
        await ready(page)
        await press(page, 'Count its flashes')
        await page.getByRole('button', { name: 'Damp it' }).waitFor({ timeout: 300_000 })
      }),
      state('damped', async page => {
        await press(page, 'Damp it')
        await page.getByText('Flashes: within bounds').waitFor({ timeout: 300_000 })
      }),
    ],
  },
  {
    name: 'recovered',
    file: 'demo',
    states: [
      state('left-unsaved', async page => {
        await ready(page)
        await page.getByLabel('Elevation').fill('40')
        await page.getByLabel('Elevation').press('Enter')
        await page.waitForTimeout(keptMs)
        // The page goes without a question, as one that crashes does.
        await page.evaluate(() =>
          window.addEventListener('beforeunload', event => event.stopImmediatePropagation(), true),
        )
        await page.reload()
        await page.getByRole('dialog', { name: 'Work was left unsaved' }).waitFor()
      }),
      state('taken-up', async page => {
        await press(page, 'Take it up again')
        await ready(page)
      }),
    ],
  },
  {
    name: 'art-missing',
    file: 'art-missing',
    states: [state('art-missing', page => page.getByRole('dialog').waitFor())],
  },
  {
    name: 'art-changed',
    file: 'art-changed',
    states: [
      state('art-changed', page => page.getByRole('dialog', { name: 'The art has changed' }).waitFor()),
      state('art-changed-used', async page => {
        await press(page, 'Use the changed file')
        await ready(page)
      }),
    ],
  },
  {
    name: 'art-asks',
    file: 'none',
    states: [
      state('art-locked', async page => {
        await opened(page, 'Open', await severalPages({ password: 'comet' }))
        await asks(page, /is locked$/)
      }),
      state('art-password-wrong', async page => {
        await page.getByLabel('Password').fill('nova')
        await press(page, 'Open it')
        await page.getByText('This password does not open it.').waitFor()
      }),
      state('art-pages', async page => {
        await page.getByLabel('Password').fill('comet')
        await press(page, 'Open it')
        await page.locator('.pages canvas').nth(4).waitFor()
        await page.getByText('is being read').first().waitFor({ state: 'detached' })
      }),
      state('art-page-focused', page => page.keyboard.press('Tab')),
      state('art-page', async page => {
        await page.getByRole('button', { name: /Page 3/ }).click()
        await lies(page, 'all sizes.pdf')
      }),
      state('art-page-read', howRead),
      state('art-drawn-finer', async page => {
        await page.getByLabel('Art drawn at').fill('1200')
        await page.getByLabel('Art drawn at').press('Tab')
      }),
      state('art-inexact', async page => {
        await opened(page, 'Open', await inexactPage())
        await asks(page, /^Some inks of/)
      }),
      state('art-by-layer', async page => {
        await press(page, 'Read it by layer')
        await lies(page, 'Comet hunter')
      }),
      state('art-by-layer-read', howRead),
      state('art-fonts-missing', page => sheet(page, /finding/)),
    ],
  },
  {
    name: 'art-files',
    file: 'none',
    states: [
      state('art-and-drawing', async page => {
        await opened(page, 'Open', [demo('demo.tif'), demo('demo.svg')])
        await lies(page, 'demo.tif')
      }),
      state('art-and-drawing-read', howRead),
      state('plates', async page => {
        const folder = plateFolder(mkdtempSync(join(tmpdir(), 'rakelight-plates-')))
        await page.keyboard.press('F2')
        await asks(page, 'Do anything')
        await page.keyboard.type('folder of plates')
        const chooser = page.waitForEvent('filechooser', { timeout: 60_000 })
        // By pointer: a key goes out so soon that the driver may not yet be listening for the dialog.
        await page.getByRole('option', { name: /a folder of plates/ }).click()
        await (await chooser).setFiles(folder)
        await lies(page, 'Halden lens cap')
        rmSync(folder, { recursive: true })
      }),
      state('plates-read', howRead),
      state('plates-findings', page => sheet(page, /finding/)),
      state('pdf', async page => {
        await page.keyboard.press('Escape')
        await opened(page, 'Open', demo('demo.pdf'))
        await lies(page, 'demo.pdf')
      }),
      state('pdf-lens-rings', async page => {
        await unfold(page, 'Holography')
        await card(page, 'lens rings')
      }),
      state('pdf-read', howRead),
      state('pdf-findings', page => sheet(page, /finding/)),
      state('pdf-plates-made', async page => {
        await sheet(page, 'Proofs')
        await press(page, /^Plates/)
        await page.getByLabel('Outlines as SVG, in mm').check()
        await press(page, 'Make the plates')
        await page.getByText(/^Plates: /).waitFor({ timeout: 300_000 })
      }),
    ],
  },
  {
    name: 'designs',
    file: 'demo',
    states: [
      state('two-designs', async page => {
        await ready(page)
        await press(page, 'Try another design')
      }),
      state('side-by-side', async page => {
        await press(page, 'Side by side')
        await page.locator('.design canvas').nth(1).waitFor({ timeout: 300_000 })
      }),
      state('four-designs', async page => {
        for (let i = 0; i < 2; i++) await press(page, 'Another')
        await page.locator('.design canvas').nth(3).waitFor({ timeout: 300_000 })
      }),
      state('rename', page => press(page, 'Rename')),
    ],
  },
]
