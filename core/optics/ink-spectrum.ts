import { BadInput } from '../base/finding.ts'
import { parseSpectrum } from '../color/spectrum-file.ts'
import type { MeasuredSpectrum } from './ink.ts'

/** Values that a job keeps of a spectrum: an instrument gives 31 (400–700 nm in tens) to 401. */
const [fewest, most] = [31, 401] as const
/** Reflectance above this is a percentage; brighteners and fluorescent inks stay well below. */
const brightest = 2

/**
 * The reflectance of a printed solid as text, 0..1, in the forms that `parseSpectrum` reads; 400–700 nm at least.
 * Throws BadInput: a gap, something that is no number, too few values, per cent instead of parts.
 * @param name of the ink, for messages
 */
export function parseInkSpectrum(text: string, name: string): MeasuredSpectrum {
  const { startNm, stepNm, values } = parseSpectrum(text, name, [400, 700])
  const bad = (problem: string, fix: string) =>
    new BadInput('bad-ink-spectrum', name, 'reflectance', problem, fix)
  if (values.length < fewest || values.length > most)
    throw bad(`has ${values.length} values`, `Give ${fewest} to ${most}, at equal steps`)
  const highest = Math.max(...values)
  if (highest > brightest)
    throw bad(`reaches ${highest}, where 1 is perfect white`, 'Give parts of 1, not per cent')
  return { startNm, stepNm, values }
}
