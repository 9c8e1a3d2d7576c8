import type { CartonStyle } from '../spec.ts'

export const straightTuck = {
  name: 'straight-tuck',
  says: 'both lids hang on the back and tuck in behind the front',
  top: { kind: 'tuck', on: 'back' },
  bottom: { kind: 'tuck', on: 'back' },
} as const satisfies CartonStyle
