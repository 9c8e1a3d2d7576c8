import type { CartonStyle } from '../spec.ts'

export const crashLock = {
  name: 'crash-lock',
  says: 'a lid above; glued flaps below that fall into place as the body opens',
  top: { kind: 'tuck', on: 'back' },
  bottom: { kind: 'crash-lock' },
} as const satisfies CartonStyle
