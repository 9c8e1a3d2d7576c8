import { basename } from 'node:path'
import type { Art } from '../../core/art/layer.ts'
import { readArt } from '../../core/art/read.ts'
import type { Task } from '../../core/base/task.ts'
import { reportPage } from '../../core/export/report.ts'
import { cartonFindings } from '../../core/job/carton-findings.ts'
import { blankFor } from '../art-work.ts'
import { openFile } from '../file-source.ts'
import { buildFromJob } from '../open-job.ts'
import { version } from '../places.ts'
import { writeFileSafely } from '../write-file.ts'
import { jobAtWork, jobFlags } from './at-work.ts'
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
    const name = basename(jobPath)
    const task = progressTask(output, `Building the map of ${name}`)
    const opened = await jobAtWork(args, jobPath, output, task)
    const { map, assigned, findings } = await buildFromJob(opened, task)
    const art = opened.artPath === null ? blankFor(opened.job).art : await artAt(opened.artPath, task)
    output.progress(null)
    const made = `${new Date().toISOString().slice(0, 16).replace('T', ' ')} UTC`
    const all = [...findings, ...cartonFindings(opened.job)]
    const page = reportPage({
      jobName: name,
      job: opened.job,
      art,
      assigned,
      map,
      findings: all,
      version,
      made,
    })
    const target = args.value('out')
    if (target === undefined) return output.print(page)
    await writeFileSafely(target, page)
    output.say(`Wrote ${target}.`)
  },
}

async function artAt(path: string, task: Task): Promise<Art> {
  const source = await openFile(path)
  const { art } = await readArt(source, {}, task).finally(() => source.close())
  return art
}
