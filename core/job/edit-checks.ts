import type { MarkedArea } from '../checks/marked.ts'
import type { Waiver } from '../checks/waiver.ts'
import type { Job } from './job.ts'
import { type Misfit, misfitOf, type PlateGroup, type Register } from './register.ts'

/** Edits of what a job says to its checks. */
type Edit = (job: Job) => Job

/** Judges by another value than the usual one; `note` says whose it is, and must not be empty. */
export const setLimit =
  (key: string, value: number, note: string): Edit =>
  job =>
    note.trim() === '' ? job : { ...job, limits: { ...job.limits, [key]: { value, note: note.trim() } } }

/** Back to the usual value. */
export const clearLimit =
  (key: string): Edit =>
  job => {
    const { [key]: _, ...limits } = job.limits
    return { ...job, limits }
  }

/** Lets a finding stand; without a reason or a name it is not waived. One waived again has the new reason. */
export const waive =
  (waiver: Waiver): Edit =>
  job => {
    const [reason, by] = [waiver.reason.trim(), waiver.by.trim()]
    if (reason === '' || by === '') return job
    return { ...job, waivers: [...unwaived(job, waiver.key), { ...waiver, reason, by }] }
  }

/** Takes a waiver back. */
export const unwaive =
  (key: string): Edit =>
  job => ({ ...job, waivers: unwaived(job, key) })

const unwaived = ({ waivers }: Job, key: string) => waivers.filter(one => one.key !== key)

/** Marks an area, or changes the one of that name in its place. */
export const putMark =
  (area: MarkedArea): Edit =>
  job => ({
    ...job,
    marked: job.marked.some(old => old.name === area.name)
      ? job.marked.map(old => (old.name === area.name ? area : old))
      : [...job.marked, area],
  })

/** Another name; without one, or with one that another area has, it keeps its own. */
export const renameMark =
  (name: string, next: string): Edit =>
  job =>
    next.trim() === '' || job.marked.some(one => one.name === next.trim())
      ? job
      : {
          ...job,
          marked: job.marked.map(one => (one.name === name ? { ...one, name: next.trim() } : one)),
        }

export const removeMark =
  (name: string): Edit =>
  job => ({ ...job, marked: job.marked.filter(one => one.name !== name) })

/** Moves a group of plates; what is left out stays. A group that lies as designed is not listed. */
export const setMisfit =
  (group: PlateGroup, change: Partial<Misfit>): Edit =>
  job => {
    const { [group]: _, ...others } = job.register
    const now = { ...misfitOf(job.register, group), ...change }
    const fits = Object.values(now).every(value => value === 0)
    return { ...job, register: fits ? others : { ...others, [group]: now } }
  }

/** Moves all groups of plates at once; none listed: as designed. */
export const setRegister =
  (register: Register): Edit =>
  job => ({ ...job, register })
