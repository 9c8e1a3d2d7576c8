import { basename } from 'node:path'
import { version } from '../places.ts'
import { writeFileSafely } from '../write-file.ts'
import { jobAtWork, jobFlags } from './at-work.ts'
import { inCheckWorker } from './check-worker.ts'
import type { Command } from './command.ts'
import { progressTask } from './progress.ts'

export const report: Command = {
  usage: {
    name: 'report',
    says: 'one page about a job: what it is made of, findings, and every assumed number',
    operands: ['JOB'],
    flags: {
      out: { value: 'FILE', says: 'where to write the page, HTML; printed when left out' },
      ...jobFlags,
    },
  },
  async run(args, output) {
    const jobPath = args.operands[0]!
    const jobName = basename(jobPath)
    const task = progressTask(output, `Checking ${jobName}`)
    const opened = await jobAtWork(args, jobPath, output, task)
    const made = `${new Date().toISOString().slice(0, 16).replace('T', ' ')} UTC`
    const page = await inCheckWorker('report', opened, { jobName, version, made }, task)
    output.progress(null)
    const target = args.value('out')
    if (target === undefined) return output.print(page)
    await writeFileSafely(target, page)
    output.say(`Wrote ${target}.`)
  },
}
