import { existsSync, readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { guide } from '../../renderer/panels/guide.ts'

/** The guide stands in the help and in the README, and a script walks it: they must say the same. */

const file = (name: string): URL => new URL(`../../${name}`, import.meta.url)
const readme = readFileSync(file('README.md'), 'utf8')
const walked = readFileSync(file('scripts/guide.mjs'), 'utf8')

it.each(guide.map((step, i) => [i + 1, step] as const))(
  'step %i is in the README, and its picture is there',
  (n, step) => {
    expect(readme).toContain(`${n}. **${step.does}** ${step.sees}\n`)
    if (step.picture === null) return
    expect(readme).toContain(`(demo-assets/guide/${step.picture}.jpg)`)
    expect(existsSync(file(`demo-assets/guide/${step.picture}.jpg`))).toBe(true)
    expect(walked).toContain(`async ${step.picture}(page)`)
  },
)
