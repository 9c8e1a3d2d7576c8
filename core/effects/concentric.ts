import { turnedKind } from './turned.ts'

/** Grooves are rings: the grating vector points away from the centre. */
export const concentric = turnedKind(
  {
    name: 'concentric',
    title: 'Concentric rings',
    says: 'Two bright spokes on opposite sides of the centre point along the light and turn with it.',
  },
  0,
)
