import { basename } from 'node:path'
import { sha256Hex } from '../../core/base/sha256.ts'
import type { Task } from '../../core/base/task.ts'
import { shortId } from '../../core/proof/version.ts'
import { readNotes } from '../note-book.ts'
import type { JobAtWork } from '../open-job.ts'
import { version } from '../places.ts'
import { usualPixels } from '../sheet-work.ts'
import { versionNow } from '../version-sources.ts'
import { writeFileSafely } from '../write-file.ts'
import { type Args, UsageError } from './args.ts'
import { jobAtWork, jobFlags } from './at-work.ts'
import { inCheckWorker } from './check-worker.ts'
import { type Command, jsonFlag, type Output } from './command.ts'
import { listVersion, nameBeside } from './listed.ts'
import { countOf } from './numbers.ts'
import { inPictureWorker, workFrom } from './picture-worker.ts'
import { progressTask } from './progress.ts'

export const report: Command = {
  usage: {
    name: 'report',
    says: 'one page about a job: what it is made of, findings, and every assumed number',
    operands: ['JOB'],
    flags: {
      out: { value: 'FILE', says: 'where to write the page, HTML; printed when left out' },
      pdf: {
        value: 'FILE',
        says: 'writes a proof sheet for a meeting, PDF of A4: pictures at named lights, layers, effects, findings, notes',
      },
      pixels: {
        value: 'N',
        says: `width of the large pictures of the proof sheet, 60 to 4000; ${usualPixels} when left out`,
      },
      ...jsonFlag,
      ...jobFlags,
    },
  },
  async run(args, output) {
    const jobPath = args.operands[0]!
    const jobName = basename(jobPath)
    const task = progressTask(output, `Checking ${jobName}`)
    const opened = await jobAtWork(args, jobPath, output, task)
    const pdf = args.value('pdf')
    if (args.has('json') && pdf === undefined)
      throw new UsageError('report: --json says what was written by --pdf')
    if (pdf !== undefined) await writeSheet(args, jobPath, pdf, opened, output, task)
    const target = args.value('out')
    if (pdf !== undefined && target === undefined) return
    const made = `${new Date().toISOString().slice(0, 16).replace('T', ' ')} UTC`
    const page = await inCheckWorker('report', opened, { jobName, version, made }, task)
    output.progress(null)
    if (target === undefined) return output.print(page)
    await writeFileSafely(target, page)
    output.say(`Wrote ${target}.`)
  },
}

/** A sheet is a proof that goes out: it is a version of the job, listed with the others. */
async function writeSheet(
  args: Args,
  jobPath: string,
  target: string,
  opened: JobAtWork,
  output: Output,
  task: Task,
): Promise<void> {
  const pixels = countOf(args.value('pixels') ?? String(usualPixels), 'pixels', 60, 4000)
  const version = await versionNow(opened, basename(jobPath), new Date().toISOString(), task)
  const { notes } = await readNotes(jobPath)
  const bytes = await inPictureWorker('sheet', { ...workFrom(opened), version, notes, pixels }, task)
  output.progress(null)
  await writeFileSafely(target, bytes)
  const file = { name: nameBeside(jobPath, target), sha256: sha256Hex(bytes), bytes: bytes.length }
  const listed = await listVersion(jobPath, version, file, output)
  if (args.has('json'))
    output.print(JSON.stringify({ job: basename(jobPath), version: version.id, file, listed }, null, 2))
  output.say(`Wrote ${target}, version ${shortId(version.id)}.`)
}
