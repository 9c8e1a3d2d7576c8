import type { CartonStyle } from '../spec.ts'

export const reverseTuck = {
  name: 'reverse-tuck',
  says: 'the upper lid hangs on the back, the lower one on the front',
  top: { kind: 'tuck', on: 'back' },
  bottom: { kind: 'tuck', on: 'front' },
} as const satisfies CartonStyle
