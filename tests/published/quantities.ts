import { appearance } from './ours/appearance.ts'
import { codes } from './ours/codes.ts'
import { colour } from './ours/colour.ts'
import { directions } from './ours/directions.ts'
import { efficiency } from './ours/efficiency.ts'
import { flashing } from './ours/flashing.ts'
import { legibility } from './ours/legibility.ts'
import { preflight } from './ours/preflight.ts'
import { print } from './ours/print.ts'
import { register } from './ours/register.ts'
import { surfaces } from './ours/surfaces.ts'
import { white } from './ours/white.ts'
import type { Quantities } from './row.ts'

/** Every quantity that a published row may ask for. */
export const quantities: Quantities = {
  ...directions,
  ...efficiency,
  ...surfaces,
  ...colour,
  ...print,
  ...white,
  ...appearance,
  ...preflight,
  ...legibility,
  ...register,
  ...flashing,
  ...codes,
}
