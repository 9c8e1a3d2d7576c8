import type { CartonStyle } from '../spec.ts'

export const crashLock = {
  name: 'crash-lock',
  says: 'a lid above; below, flaps glued in pairs while the body lies askew, which swing out into a bottom as it is squared up',
  top: { kind: 'tuck', on: 'back' },
  bottom: { kind: 'crash-lock' },
} as const satisfies CartonStyle
