import { checkParts } from '../../core/checks/parts.ts'
import type { CheckList } from '../../core/checks/run.ts'
import { reportPage } from '../../core/export/report.ts'
import { ArtShelf, type JobWork } from '../art-work.ts'
import { CheckWork } from '../check-work.ts'
import { codeReader } from '../code-reader.ts'
import { partOf } from '../task-part.ts'
import { serveWork } from '../worker-side.ts'

/** A null path stands for a panel without art. */
type Wish = { readonly path: string | null } & JobWork

export type CheckCrafts = {
  check: { input: Wish; value: CheckList }
  /** A page about the job, HTML. */
  report: {
    input: Wish & { readonly jobName: string; readonly version: string; readonly made: string }
    value: string
  }
}

const shelf = new ArtShelf()
const checks = new CheckWork(async () => checkParts(await codeReader()))

serveWork<CheckCrafts>({
  async check({ path, ...work }, task) {
    const file = await shelf.forJob(path, work.job, partOf(task, 0, 0.05))
    const { list } = await checks.check(file, work, partOf(task, 0.05, 1))
    return { value: list }
  },
  async report({ path, jobName, version, made, ...work }, task) {
    const file = await shelf.forJob(path, work.job, partOf(task, 0, 0.05))
    const { list, ...rest } = await checks.check(file, work, partOf(task, 0.05, 1))
    return { value: reportPage({ ...rest, checked: list, job: work.job, jobName, version, made }) }
  },
})
