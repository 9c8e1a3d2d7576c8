import type { Ease } from '../../../core/job/job.ts'

/** How motion passes a key, in plain words. */
export const easeWords: Readonly<Record<Ease, { readonly title: string; readonly says: string }>> = {
  flow: { title: 'Flows through', says: 'Passes the key without stopping' },
  rest: { title: 'Comes to rest', says: 'Slows to a stop here and starts again gently' },
  even: { title: 'Leaves at even speed', says: 'From here to the next key at one speed' },
  hold: { title: 'Waits, then jumps', says: 'Stays as it is here and is at the next key at once' },
}
