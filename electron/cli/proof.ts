import { basename, resolve } from 'node:path'
import { BadInput } from '../../core/base/finding.ts'
import { sha256Hex } from '../../core/base/sha256.ts'
import { partOf } from '../../core/base/task.ts'
import type { MadeProof } from '../../core/host/proofs.ts'
import { budgetLimits, usualBudget } from '../../core/proof/budget.ts'
import { shortId } from '../../core/proof/version.ts'
import { readNotes } from '../note-book.ts'
import { versionNow } from '../version-sources.ts'
import { viewerScripts } from '../viewer-scripts.ts'
import { requireWritable, writeFileSafely } from '../write-file.ts'
import { type Args, UsageError } from './args.ts'
import { jobAtWork, jobFlags } from './at-work.ts'
import { inCheckWorker } from './check-worker.ts'
import type { Command } from './command.ts'
import { listVersion, nameBeside } from './listed.ts'
import { mailParts, zipped } from './mail.ts'
import { numberOf } from './numbers.ts'
import { progressTask } from './progress.ts'
import { counted } from './table.ts'

export const proof: Command = {
  usage: {
    name: 'proof',
    says: 'one HTML file that opens without a network: the carton under a lamp that its reader moves',
    operands: ['JOB'],
    flags: {
      output: { value: 'FILE', short: 'o', needed: true, says: 'where to write the page' },
      budget: {
        value: 'MB',
        says: `most that the file may have; its detail is chosen by it, ${usualBudget / 1e6} when left out`,
      },
      unchecked: { value: null, says: 'without what the checks find, which takes a while' },
      made: {
        value: 'TIME',
        says: 'time that it is to carry, as 2026-03-04T09:30:00Z; now when left out. The same job and time make the same bytes',
      },
      mail: {
        value: 'ZIP',
        says: 'also a zip for mail: the page, a short movie, the proof sheet as PDF, and how to open them',
      },
      json: { value: null, says: 'print what was written as JSON' },
      ...jobFlags,
    },
  },
  async run(args, output) {
    const jobPath = args.operands[0]!
    const name = basename(jobPath)
    const target = args.need('output')
    const wish = { budget: budgetOf(args), checked: !args.has('unchecked') }
    const madeAt = timeOf(args)
    refuseOver(jobPath, target)
    const mail = args.value('mail')
    if (mail !== undefined) {
      refuseOver(jobPath, mail)
      refuseOver(target, mail)
      await requireWritable(mail)
    }
    await requireWritable(target)
    const task = progressTask(output, `Proof of ${name}`)
    const opened = await jobAtWork(args, jobPath, output, task)
    refuseOver(opened.art?.path ?? null, target)
    if (mail !== undefined) refuseOver(opened.art?.path ?? null, mail)
    const of = await versionNow(opened, name, madeAt, partOf(task, 0, 0.05))
    const { notes } = await readNotes(jobPath)
    const order = { ...wish, of, notes, scripts: await viewerScripts() }
    const made = await inCheckWorker('proof', opened, { order }, partOf(task, 0.05, 1))
    output.progress(null)
    await writeFileSafely(target, made.bytes)
    const file = {
      name: nameBeside(jobPath, target),
      sha256: sha256Hex(made.bytes),
      bytes: made.bytes.length,
    }
    const listed = await listVersion(jobPath, of, file, output)
    const page = { name: basename(target), bytes: made.bytes }
    const mailed =
      mail === undefined ? null : await mailParts(args, { jobPath, opened, of, notes, page }, output)
    if (mail !== undefined && mailed !== null) await writeFileSafely(mail, zipped(mailed, madeAt))
    if (args.has('json'))
      output.print(
        JSON.stringify(
          { ...told(made), file, listed, mail: mailed?.map(part => part.name) ?? null },
          null,
          2,
        ),
      )
    output.say(
      `Wrote ${target}, ${(made.bytes.length / 1e6).toFixed(1)} MB: version ${shortId(made.id)} of ${name}. ${made.detail.says}${findingWords(made)}`,
    )
    if (mailed !== null) output.say(`Wrote ${mail}: ${mailed.map(part => part.name).join(', ')}.`)
  },
}

/** What was made, without its bytes. */
const told = ({ bytes: _, counts, ...rest }: MadeProof) => ({ ...rest, findings: counts })

function findingWords({ counts }: MadeProof): string {
  if (counts === null) return ' Made without checks.'
  const { error, warning, note } = counts
  return ` Checks: ${counted(error, 'error')}, ${counted(warning, 'warning')}, ${counted(note, 'note')}.`
}

function refuseOver(path: string | null, target: string): void {
  if (path !== null && resolve(path) === resolve(target))
    throw new BadInput(
      'same-file',
      target,
      'the path',
      'is a file that the proof is made of',
      'Choose another name',
    )
}

function budgetOf(args: Args): number {
  const megabytes = numberOf(args, 'budget')
  if (megabytes === undefined) return usualBudget
  const [least, most] = budgetLimits.map(bytes => bytes / 1e6) as [number, number]
  if (megabytes >= least && megabytes <= most) return Math.round(megabytes * 1e6)
  throw new UsageError(`--budget: expected ${least} to ${most} megabytes, got ${megabytes}`)
}

/** When it was made, as `--made` says, or now. Throws UsageError. */
export function timeOf(args: Args): string {
  const text = args.value('made')
  if (text === undefined) return new Date().toISOString()
  if (/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,3})?Z$/.test(text) && !Number.isNaN(Date.parse(text)))
    return text
  throw new UsageError(`--made: expected a time in UTC, as 2026-03-04T09:30:00Z, got "${text}"`)
}
