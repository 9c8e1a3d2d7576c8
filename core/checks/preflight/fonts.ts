import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { colourRoles, layersOf } from '../printed.ts'
import { found, measured } from './found.ts'

/** Names that a finding spells out. */
const named = 5

/**
 * Text that is still text: it needs its fonts wherever the file goes. One finding for all. A page brings its fonts along:
 * of one, those that are not in it are named.
 */
export function liveFonts(input: CheckInput): readonly CheckFinding[] {
  const missing = input.art.page?.fonts.filter(font => !font.embedded)
  if (missing !== undefined) return missing.length === 0 ? [] : [fontsMissing(missing.map(font => font.name))]
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

function fontsMissing(fonts: readonly string[]): CheckFinding {
  const names = fonts.slice(0, named).map(name => `"${name}"`)
  const more = fonts.length > named ? ` and ${fonts.length - named} more` : ''
  return found({
    severity: 'error',
    code: 'fonts-not-embedded',
    where: `fonts ${names.join(', ')}${more}`,
    message: `${fonts.length === 1 ? 'a font is' : `${fonts.length} fonts are`} not in the file: other letters stand for it here, and may at the printer`,
    fix: 'Export the art with its fonts embedded, or outline the text.',
    measured: measured(fonts.length, 'fonts', 0),
  })
}
