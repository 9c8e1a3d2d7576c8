import type { CartonStyle } from '../spec.ts'

export const sleeve = {
  name: 'sleeve',
  says: 'a body open at both ends',
  top: { kind: 'open' },
  bottom: { kind: 'open' },
} as const satisfies CartonStyle
