import type { Handlers } from '../core/host/contract.ts'
import type { PageFiles } from './page-files.ts'
import type { RunningTasks } from './running.ts'
import type { WorkerPool } from './worker-pool.ts'
import type { CheckCrafts, PictureCrafts } from './workers/check.ts'

/** What these handlers ask of the host. */
interface CheckHost {
  readonly files: PageFiles
  readonly tasks: RunningTasks
  readonly checks: WorkerPool<CheckCrafts & PictureCrafts>
}

type Names =
  | 'runChecks'
  | 'slipPicture'
  | 'accountPicture'
  | 'flashPicture'
  | 'heatPicture'
  | 'typePicture'
  | 'whitePicture'
  | 'framePicture'

/** Checks of the page's job, and their pictures. */
export function checkHandlers({ files, tasks, checks }: CheckHost): Pick<Handlers, Names> {
  return {
    runChecks: ({ fileId, taskId, job }) =>
      tasks.run(taskId, task => checks.run('check', files.ofJob(fileId, job), task)),

    slipPicture: ({ fileId, taskId, job }) =>
      tasks.run(taskId, task => checks.run('slips', files.ofJob(fileId, job), task)),

    accountPicture: ({ fileId, taskId, job }) =>
      tasks.run(taskId, task => checks.run('account', files.ofJob(fileId, job), task)),

    flashPicture: ({ fileId, taskId, job }) =>
      tasks.run(taskId, task => checks.run('flashes', files.ofJob(fileId, job), task)),

    heatPicture: ({ fileId, taskId, job }) =>
      tasks.run(taskId, task => checks.run('heat', files.ofJob(fileId, job), task)),

    typePicture: ({ fileId, taskId, job }) =>
      tasks.run(taskId, task => checks.run('type', files.ofJob(fileId, job), task)),

    whitePicture: ({ fileId, taskId, job, size }) =>
      tasks.run(taskId, task => checks.run('white', { ...files.ofJob(fileId, job), size }, task)),

    framePicture: ({ fileId, taskId, job, ...view }) =>
      tasks.run(taskId, task => checks.run('frame', { ...files.ofJob(fileId, job), ...view }, task)),
  }
}
