import { basename } from 'node:path'
import { knownLimits } from '../../core/checks/known-limits.ts'
import { checkJson, checkReport } from '../../core/export/check-report.ts'
import { junit } from '../../core/export/junit.ts'
import { sarif } from '../../core/export/sarif.ts'
import { requireLimits } from '../../core/job/check-input.ts'
import { version } from '../places.ts'
import { writeFileSafely } from '../write-file.ts'
import { type Args, UsageError } from './args.ts'
import { jobAtWork, jobFlags } from './at-work.ts'
import { checkPage, limitList, limitPage } from './check-page.ts'
import { inCheckWorker } from './check-worker.ts'
import { type Command, FindingsFail, jsonFlag, type Output } from './command.ts'
import { progressTask } from './progress.ts'

export const check: Command = {
  usage: {
    name: 'check',
    says: 'what will go wrong on foil, worst first; exit code 3 when something fails',
    operands: ['[JOB]'],
    flags: {
      sarif: { value: 'FILE', says: 'write the findings as SARIF 2.1.0 too' },
      junit: { value: 'FILE', says: 'write them as JUnit XML too' },
      limits: { value: null, says: 'list every limit with value, status and source instead of checking' },
      ...jobFlags,
      ...jsonFlag,
    },
  },
  async run(args, output) {
    if (args.has('limits')) return printLimits(args, output)
    const [jobPath] = args.operands
    if (jobPath === undefined) throw new UsageError('check: JOB is missing')
    const name = basename(jobPath)
    const task = progressTask(output, `Checking ${name}`)
    const opened = await jobAtWork(args, jobPath, output, task)
    const list = await inCheckWorker('check', opened, {}, task)
    output.progress(null)
    const report = checkReport(opened.job, name, version, list)
    await writeBeside(args, 'sarif', () => sarif(report))
    await writeBeside(args, 'junit', () => junit(report))
    output.print(args.has('json') ? JSON.stringify(checkJson(report), null, 2) : checkPage(report))
    if (list.sums.fails > 0) throw new FindingsFail(list.sums.fails)
  },
}

async function writeBeside(args: Args, flag: 'sarif' | 'junit', text: () => string): Promise<void> {
  const path = args.value(flag)
  if (path !== undefined) await writeFileSafely(path, text())
}

async function printLimits(args: Args, output: Output): Promise<void> {
  for (const flag of ['sarif', 'junit'])
    if (args.has(flag)) throw new UsageError(`check: --${flag} is for findings, not for --limits`)
  const [jobPath] = args.operands
  const task = progressTask(output, 'Reading the job')
  const job = jobPath === undefined ? null : (await jobAtWork(args, jobPath, output, task)).job
  if (job !== null) requireLimits(job, knownLimits)
  output.progress(null)
  const list = limitList(knownLimits, job?.limits ?? {})
  output.print(args.has('json') ? JSON.stringify(list, null, 2) : limitPage(list))
}
