import { limits } from './limits.ts'
import { turnedKind } from './turned.ts'

/** Grooves are rings: the grating vector points away from the centre. */
export const concentric = turnedKind(
  {
    name: 'concentric',
    title: 'Concentric rings',
    says: 'Two bright spokes on opposite sides of the centre point along the light and turn with it.',
    limits: limits(
      3,
      'Spokes need a few millimetres; at the very centre the grooves meet and the foil is dull.',
    ),
  },
  0,
)
