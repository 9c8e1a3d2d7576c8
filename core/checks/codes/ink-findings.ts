import type { BarInks } from './bar-inks.ts'
import type { Told } from './told.ts'

/** Bars may have half the reflectance of the spaces. Source: ISO/IEC 15416, two secondary pages. */
const darkEnough = 0.5

/** Whether the bars are of one ink that a reader hardly sees. */
export const lightInRed = ({ inks, ratio }: BarInks): boolean => inks.length === 1 && ratio > darkEnough

/** What the bars are printed in. */
export function inkFindings(bars: BarInks): readonly Told[] {
  const { inks, ratio } = bars
  const said = inks.map(({ name, coverage }) => `${Math.round(100 * coverage)} % ${name}`).join(', ')
  const found: Told[] = []
  if (inks.length > 1)
    found.push({
      severity: 'error',
      code: 'code-bars-several-inks',
      message: `its bars are built from ${inks.length} inks (${said}); the least misregister blurs their edges`,
      fix: 'Print the bars in one dark ink, best in black alone.',
      measured: { value: inks.length, unit: 'inks' },
    })
  else if (lightInRed(bars))
    found.push({
      severity: 'error',
      code: 'code-ink-light-at-660',
      message: `its bars (${said}) send ${Math.round(100 * ratio)} % of the red that the ground sends: a reader hardly sees them`,
      fix: 'Print the bars in black, dark blue or dark green; red, orange, yellow and magenta vanish at 660 nm.',
      measured: { value: ratio, unit: '' },
    })
  return found
}
