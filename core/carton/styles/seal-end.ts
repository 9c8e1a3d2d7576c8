import type { CartonStyle } from '../spec.ts'

export const sealEnd = {
  name: 'seal-end',
  says: 'both ends closed by flaps glued over each other',
  top: { kind: 'seal', on: 'back' },
  bottom: { kind: 'seal', on: 'back' },
} as const satisfies CartonStyle
