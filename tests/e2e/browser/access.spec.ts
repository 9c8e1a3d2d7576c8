import AxeBuilder from '@axe-core/playwright'
import { expect, type Page } from '@playwright/test'
import { jobFor } from '../../../scripts/walk/jobs.mjs'
import { sittings } from '../../../scripts/walk/states.mjs'
import { test } from '../../support/served.ts'
import { ready, smallArt } from '../../support/table.ts'

/** Every state of the window by the rules of WCAG 2.2, levels A and AA, as axe-core checks them. */

const rules = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']

/** What a theme changes is colour: by night these are asked again of what all rules were asked of by day. */
const coloured = ['color-contrast', 'link-in-text-block']

async function clean(state: string, builder: AxeBuilder): Promise<void> {
  const { violations } = await builder.analyze()
  const said = violations.flatMap(({ id, nodes }) =>
    nodes.map(
      node => `${state}: ${id}: ${node.target.join(' ')}: ${node.failureSummary?.split('\n')[1] ?? ''}`,
    ),
  )
  expect.soft(said).toEqual([])
}

/** States that show nothing but what a state beside them shows, or a picture alone: only passed through. */
const passed = new Set([
  'no-art-card',
  'holography',
  'effect-star-rays',
  'effect-holo-lines',
  'effect-milky-way',
  'board-card',
  'board-numbers',
  'not-printed',
  'six-lamps',
  'rig',
  'polygon-drawn',
  'key-eye',
  'leaves-lifted',
  'half-folded',
  'blank',
  'reverse-tuck',
  'snap-lock',
  'crash-lock',
  'sleeve',
  'drawn-half-folded',
  'four-designs',
  'two-designs',
  'overprint',
  'effect-lens-rings',
  'spot-under',
  'draw-rectangle',
  'print-beside-proof',
  'straight-tuck',
  'drawn',
  'taken-up',
  'art-changed-used',
  'art-page',
  'art-and-drawing',
  'pdf',
  'slips-before',
  'account',
  'before',
])

for (const { name, file, states } of sittings)
  test(`the window keeps to WCAG 2.2 AA, light and dark, in every state: ${name}`, async ({ open, page }) => {
    // Up to twenty states, each looked at whole and twice.
    test.setTimeout(900_000)
    await page.emulateMedia({ colorScheme: 'light', reducedMotion: 'reduce' })
    await open(jobFor(file, test.info().outputPath('job')))
    for (const state of states) {
      await state.go(page)
      if (passed.has(state.name)) continue
      await page.waitForTimeout(300)
      await whole(page, state.name)
      await clean(`${state.name}, light`, new AxeBuilder({ page }).withTags(rules))
      await themed(page, 'dark')
      await clean(`${state.name}, dark`, new AxeBuilder({ page }).withRules(coloured))
      await themed(page, 'light')
    }
  })

async function themed(page: Page, theme: 'light' | 'dark'): Promise<void> {
  await page.emulateMedia({ colorScheme: theme })
  await expect(page.locator('html')).toHaveAttribute('data-theme', theme)
}

/** The window itself never scrolls, nothing wider than its column, and what is pressed is 24 pixels large or has room around it. */
async function whole(page: Page, state: string): Promise<void> {
  const said = await page.evaluate(() => {
    const wrong: string[] = []
    const { scrollingElement: root } = document
    if (root !== null && (root.scrollTop !== 0 || root.scrollLeft !== 0))
      wrong.push('the window has scrolled')
    for (const part of document.querySelectorAll('.head, .stack, .light, .designs, dialog, .spot'))
      if (part.scrollWidth > part.clientWidth + 1) wrong.push(`${part.className} is wider than its place`)
    for (const button of document.querySelectorAll('button, summary, select, input[type="range"]')) {
      const { width, height } = button.getBoundingClientRect()
      if (width > 0 && height > 0 && Math.min(width, height) < 23.9)
        wrong.push(`${button.textContent} is ${width.toFixed(1)} by ${height.toFixed(1)}`)
    }
    return wrong
  })
  expect.soft(said, state).toEqual([])
}

/** What has the focus: its name, whether a ring of 2 pixels shows it, and whether any of it can be seen. */
function focused(): { name: string; ring: boolean; seen: boolean } | null {
  const at = document.activeElement
  if (at === null || at === document.body) return null
  // A box that is there for the reader alone is seen by its label, its words or its well.
  const faint = Number(getComputedStyle(at).opacity) === 0
  const shownBy = [
    ...(faint ? [] : [at]),
    ...[at.nextElementSibling, at.closest('label'), at.closest('.well'), at.querySelector('.grip')].filter(
      one => one !== null,
    ),
  ]
  const ring = shownBy.some(one => {
    const { outlineStyle, outlineWidth, boxShadow, stroke, strokeWidth } = getComputedStyle(one)
    return (
      (outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2) ||
      /0px 0px 0px 2px/.test(boxShadow) ||
      (one.classList.contains('grip') && stroke !== 'none' && Number.parseFloat(strokeWidth) >= 2)
    )
  })
  const seen = shownBy.some(one => {
    const { left, top, width, height } = one.getBoundingClientRect()
    return [0.5, 0.1, 0.9].some(x =>
      [0.5, 0.1, 0.9].some(y => {
        const met = document.elementFromPoint(left + x * width, top + y * height)
        return met !== null && (one.contains(met) || met.contains(one))
      }),
    )
  })
  const words = at instanceof HTMLInputElement ? at.labels?.[0]?.textContent : at.textContent
  const label = at.getAttribute('aria-label') ?? words ?? ''
  return { name: `${at.tagName} ${label.slice(0, 60)}`, ring, seen }
}

/** Goes once round by Tab from where the focus is; what is met on the way. */
async function tabbed(page: Page, state: string): Promise<ReadonlySet<string>> {
  const met = new Set<string>()
  const first = await page.evaluate(focused)
  let ends = 0
  for (let i = 0; i < 300; i++) {
    const focus = i === 0 ? first : await page.evaluate(focused)
    // Past the last control the focus leaves the page for a step.
    if (focus === null) ends += 1
    else if (i > 0 && focus.name === first?.name) break
    else {
      // What was pressed needs no ring.
      if (i > 0) expect.soft(focus.ring, `${state}: ${focus.name} shows that it has the focus`).toBe(true)
      expect.soft(focus.seen, `${state}: ${focus.name} is not hidden by what lies over it`).toBe(true)
      met.add(focus.name)
    }
    if (ends === 2) break
    await page.keyboard.press('Tab')
  }
  return met
}

test('every control is reached by Tab, shows it and is not hidden then', async ({ open, page }) => {
  test.setTimeout(300_000)
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await open(smallArt().path)
  await ready(page)
  const table = await tabbed(page, 'table')
  expect(table.size).toBeGreaterThan(25)
  expect([...table].join('\n')).toContain('The panel on the table')

  await page.locator('.card-head', { hasText: 'Holography lines' }).click()
  await page.getByText('Register and tones').click()
  const card = await tabbed(page, 'effect')
  expect([...card].join('\n')).toContain('Direction')
  await page.getByRole('button', { name: 'Put one in the middle' }).click()
  await ready(page)
  const area = await tabbed(page, 'area')
  expect([...area].join('\n')).toContain('Corner 4 of 4')
  await page.getByRole('button', { name: 'Polygon' }).click()
  const drawing = await tabbed(page, 'drawing')
  expect([...drawing].join('\n')).toContain('Press corner after corner')
  await page.getByRole('button', { name: 'Stop drawing' }).click()

  await page.getByRole('button', { name: 'Fold it into a carton' }).click()
  await page.getByText('Each fold').click()
  await page.getByText('Allowances').click()
  const carton = await tabbed(page, 'carton')
  expect([...carton].join('\n')).toContain('Glue margin')

  await page.locator('.table').press('Enter')
  await page.getByRole('button', { name: 'Look closer' }).click()
  await page.locator('.run .key').nth(1).click()
  const spot = await tabbed(page, 'spot and key')
  expect([...spot].join('\n')).toContain('Take from the table')
  expect([...spot].join('\n')).toContain('Tilt of the panel')

  await page.getByRole('button', { name: 'Open', exact: true }).click()
  const question = await tabbed(page, 'question')
  expect([...question].join('\n')).toContain('Stay here')
})
