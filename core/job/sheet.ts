import type { Job } from './job.ts'

/** How many effects of the shown design lie out of register. */
export const outOfRegister = ({ effects }: Pick<Job, 'effects'>): number =>
  effects.filter(one => one.effect.register?.mode === 'continuous').length

/**
 * The job as another sheet of the run has it: what lies out of register has the place and phase of that sheet.
 * @param sheet whole number, 0 as designed
 */
export function onSheet(sheet: number): (job: Job) => Job {
  return job => ({
    ...job,
    effects: job.effects.map(one => {
      const { register } = one.effect
      return register?.mode === 'continuous'
        ? { ...one, effect: { ...one.effect, register: { ...register, sheet } } }
        : one
    }),
  })
}
