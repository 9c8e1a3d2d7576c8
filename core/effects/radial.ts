import { limits } from './limits.ts'
import { turnedKind } from './turned.ts'

/** Grooves are rays: the grating vector points around the centre. */
export const radial = turnedKind(
  {
    name: 'radial',
    title: 'Sunburst',
    says: 'A bow tie of light through the centre stands across the light’s direction and turns with it.',
    limits: limits(
      3,
      'The bow tie needs a few millimetres; at the very centre the grooves meet and the foil is dull.',
    ),
  },
  Math.PI / 2,
)
