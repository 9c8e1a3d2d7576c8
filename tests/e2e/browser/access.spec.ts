import AxeBuilder from '@axe-core/playwright'
import { expect, type Page } from '@playwright/test'
import { jobFor } from '../../../scripts/walk/jobs.mjs'
import { sittings } from '../../../scripts/walk/states.mjs'
import { test } from '../../support/served.ts'
import { ready, smallArt } from '../../support/table.ts'

/** Every state of the window by the rules of WCAG 2.2, levels A and AA, as axe-core checks them. */

const rules = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']

async function clean(page: Page, state: string): Promise<void> {
  const { violations } = await new AxeBuilder({ page }).withTags(rules).analyze()
  const said = violations.flatMap(({ id, nodes }) =>
    nodes.map(
      node => `${state}: ${id}: ${node.target.join(' ')}: ${node.failureSummary?.split('\n')[1] ?? ''}`,
    ),
  )
  expect.soft(said).toEqual([])
}

/** Sittings whose every state is checked one by one; what matters of the others is in the walk through a small carton. */
const checked = ['begin', 'art-missing']

for (const { name, file, states } of sittings.filter(one => checked.includes(one.name)))
  test(`the window keeps to WCAG 2.2 AA, light and dark, in every state: ${name}`, async ({ open, page }) => {
    // Up to twenty states, each looked at whole and twice.
    test.setTimeout(900_000)
    await page.emulateMedia({ colorScheme: 'light', reducedMotion: 'reduce' })
    await open(jobFor(file, test.info().outputPath('job')))
    for (const state of states) {
      await state.go(page)
      await page.waitForTimeout(300)
      await whole(page, state.name)
      for (const theme of ['dark', 'light'] as const) {
        await page.emulateMedia({ colorScheme: theme })
        await expect(page.locator('html')).toHaveAttribute('data-theme', theme)
        await clean(page, `${state.name}, ${theme}`)
      }
    }
  })

for (const theme of ['light', 'dark'] as const)
  test(`the ${theme} window keeps to WCAG 2.2 AA in every state`, async ({ open, page }) => {
    // Some twenty states, each looked at whole.
    test.setTimeout(600_000)
    await page.emulateMedia({ colorScheme: theme })
    await open()
    await expect(page.locator('html')).toHaveAttribute('data-theme', theme)
    await expect(page.getByRole('button', { name: 'Begin without art' })).toBeVisible()
    await clean(page, 'start')
    await page.keyboard.press('F1')
    await expect(page.getByRole('dialog', { name: 'Help' })).toBeVisible()
    await clean(page, 'help')
    await page.keyboard.press('Escape')

    const chooser = page.waitForEvent('filechooser')
    await page.getByRole('button', { name: 'Open art or a job' }).click()
    await (await chooser).setFiles(smallArt().path)
    await ready(page)
    await clean(page, 'art on the table')
    for (const card of ['Holography lines', 'name has "white"', 'Disc', 'intent', 'mm']) {
      await page.locator('.card-head', { hasText: card }).first().click()
      await page.waitForTimeout(400)
      await clean(page, `card ${card}`)
    }
    await page.getByText('Form, name, own spectrum').click()
    await clean(page, 'form and spectrum')
    await page.locator('.table').press('Enter')
    await expect(page.getByLabel('Spot', { exact: true })).toBeVisible()
    await clean(page, 'spot')
    for (const sheet of ['Brief', 'finding', 'Assumed']) {
      await page.getByRole('button', { name: sheet }).first().click()
      await expect(page.getByRole('dialog')).toBeVisible()
      await clean(page, `sheet ${sheet}`)
      await page.getByRole('dialog').getByRole('button', { name: 'Close', exact: true }).click()
    }
    await page.keyboard.press('F2')
    await expect(page.getByRole('dialog', { name: 'Do anything' })).toBeVisible()
    await clean(page, 'do anything')
    await page.keyboard.press('Escape')
    await page.getByRole('button', { name: 'Try another design' }).click()
    await page.getByRole('button', { name: 'Side by side' }).click()
    await expect(page.locator('.design')).toHaveCount(2)
    await clean(page, 'side by side')
    await page.getByRole('button', { name: 'Open', exact: true }).click()
    await expect(page.getByRole('dialog', { name: 'Save the job first?' })).toBeVisible()
    await clean(page, 'question')
  })

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

test('every control is reached by Tab and shows it', async ({ open, page }) => {
  await open(smallArt().path)
  await ready(page)
  await page.keyboard.press('Tab')
  const seen = new Set<string>()
  for (let i = 0; i < 90; i++) {
    const focus = await page.evaluate(() => {
      const at = document.activeElement
      if (at === null || at === document.body) return null
      const ring = [
        at,
        ...(at.closest('.well, label, .table') ? [at.closest('.well, label, .table') as Element] : []),
      ]
      const style = ring.map(one => getComputedStyle(one))
      const shown = style.some(one => one.outlineStyle !== 'none' || one.boxShadow.includes('2px'))
      return {
        name: `${at.tagName} ${at.getAttribute('aria-label') ?? at.textContent?.slice(0, 30) ?? ''}`,
        shown,
      }
    })
    if (focus !== null) {
      expect(focus.shown, focus.name).toBe(true)
      seen.add(focus.name)
    }
    await page.keyboard.press('Tab')
  }
  expect(seen.size).toBeGreaterThan(25)
  expect([...seen].join('\n')).toContain('The panel on the table')
})
