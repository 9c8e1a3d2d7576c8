import type { CartonStyle } from '../spec.ts'

export const snapLock = {
  name: 'snap-lock',
  says: 'a lid above; four flaps below that hold each other without glue',
  top: { kind: 'tuck', on: 'back' },
  bottom: { kind: 'snap-lock' },
} as const satisfies CartonStyle
