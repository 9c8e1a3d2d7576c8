import { turnedKind } from './turned.ts'

/** Grooves are rays: the grating vector points around the centre. */
export const radial = turnedKind(
  {
    name: 'radial',
    title: 'Sunburst',
    says: 'A bow tie of light through the centre stands across the light’s direction and turns with it.',
  },
  Math.PI / 2,
)
