import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { colourRoles, layersOf } from '../printed.ts'
import { found, measured } from './found.ts'

/** Names that a finding spells out. */
const named = 5

/** Text that is still text: it needs its fonts wherever the file goes. One finding for all. */
export function liveFonts(input: CheckInput): readonly CheckFinding[] {
  const live = layersOf(input, [...colourRoles, 'white']).filter(({ kind }) => kind === 'text')
  if (live.length === 0) return []
  const names = live.slice(0, named).map(({ name }) => `"${name}"`)
  const more = live.length > named ? ` and ${live.length - named} more` : ''
  return [
    found({
      severity: 'warning',
      code: 'fonts-live',
      where: names.join(', ') + more,
      message: `${live.length === 1 ? 'a text layer is' : `${live.length} text layers are`} live: without the same fonts the printer sets other letters`,
      fix: 'Outline the text in the file that goes to the printer, or send the fonts along; keep a live copy.',
      measured: measured(live.length, 'layers', 0),
    }),
  ]
}
