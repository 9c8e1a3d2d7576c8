import type { Task } from '../../core/base/task.ts'
import { registerRanges } from '../../core/effects/register.ts'
import { artChangeFinding, changeLines } from '../../core/job/art-change.ts'
import { onSheet, outOfRegister } from '../../core/job/sheet.ts'
import { changedArt } from '../changed-art.ts'
import { type JobAtWork, openJob } from '../open-job.ts'
import type { Args } from './args.ts'
import { passwordFlag, passwordOf } from './art-flags.ts'
import type { Output } from './command.ts'
import { countOf } from './numbers.ts'
import { printable } from './printable.ts'

/** Flags of every command that works on a job. */
export const jobFlags = {
  design: { value: 'NAME', says: 'a design of the job by its name; the one it was saved with when left out' },
  sheet: {
    value: 'N',
    says: 'number of the sheet that holography out of register is seen on; 0 as designed',
  },
  'allow-outside': {
    value: null,
    says: "read the job's art and pictures even where they lie outside the job's folder",
  },
  ...passwordFlag,
} as const

/** The job as the flags want it. Says when its art is not the one that it was saved with, and what differs. */
export async function jobAtWork(args: Args, jobPath: string, output: Output, task: Task): Promise<JobAtWork> {
  const password = passwordOf(args) ?? undefined
  const opened = await openJob(jobPath, args.has('allow-outside'), task, args.value('design'), password)
  const artChange = opened.changed ? await sayChanged(opened, jobPath, output, task) : {}
  const sheet = args.value('sheet')
  if (sheet === undefined) return { ...opened, ...artChange }
  const number = countOf(sheet, 'sheet', ...registerRanges.sheet)
  if (outOfRegister(opened.job) === 0)
    output.say('Note: no holography of this design lies out of register; all sheets are alike.')
  return { ...opened, ...artChange, job: onSheet(number)(opened.job) }
}

async function sayChanged(
  { job, art }: JobAtWork,
  jobPath: string,
  output: Output,
  task: Task,
): Promise<Pick<JobAtWork, 'artChange'>> {
  if (art === null) return {}
  const change = await changedArt(job, art, task)
  output.progress(null)
  output.say(
    `Note: ${job.art?.path ?? 'the art'} has changed since the job was saved; its present state is used.`,
  )
  for (const line of change === null ? [] : changeLines(change)) output.say(`  ${printable(line)}`)
  output.say(
    `  To take it into the job: rakelight job ${argument(art.path)} -o ${argument(jobPath)} --keep ${argument(jobPath)}`,
  )
  return change === null ? {} : { artChange: artChangeFinding(change) }
}

/** A path as one word of a command line. */
const argument = (path: string): string => (/^[\w./@:\\-]+$/.test(path) ? path : JSON.stringify(path))
