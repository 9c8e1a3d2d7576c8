import { basename, resolve } from 'node:path'
import type { Art } from '../../core/art/layer.ts'
import { BadInput } from '../../core/base/finding.ts'
import { intents } from '../../core/color/profile.ts'
import { jobFindings } from '../../core/job/compare.ts'
import type { Job } from '../../core/job/job.ts'
import { assumptions, newJob } from '../../core/job/new.ts'
import { jobText } from '../../core/job/parse.ts'
import { seenArt } from '../../core/job/seen.ts'
import { noDecisions, rolesForJob } from '../art-work.ts'
import { hashFile } from '../hash-file.ts'
import { artPathFor } from '../job-art.ts'
import { openArt } from '../placed-art.ts'
import { checkProfile } from '../press.ts'
import { writeFileSafely } from '../write-file.ts'
import { type Args, UsageError } from './args.ts'
import { artAsked, artFlags } from './art-flags.ts'
import type { Command } from './command.ts'
import { keptJob, overArt, readAsBefore, sayKept } from './kept-job.ts'
import { progressTask } from './progress.ts'
import { counted } from './table.ts'

export const job: Command = {
  usage: {
    name: 'job',
    says: 'make a job file for art',
    operands: ['ART'],
    flags: {
      output: { value: 'FILE', short: 'o', needed: true, says: 'where to write the job' },
      profile: { value: 'FILE', says: 'ICC profile of the printing; without it the one that ships' },
      intent: { value: 'NAME', says: `how colours on white follow it: ${intents.join(', ')}` },
      keep: {
        value: 'JOB',
        says: 'keep all that this job decides, for art that was saved again or other art; says what moved, came and is gone',
      },
      ...artFlags,
    },
  },
  async run(args, output) {
    const target = args.need('output')
    const print = await printOf(args, resolve(target))
    const keep = args.value('keep')
    const kept = keep === undefined ? null : await keptJob(keep)
    const asked = await artAsked(args.operands[0]!, args)
    const { art: placed, reading } = kept === null ? asked : await readAsBefore(asked, kept)
    const place = resolve(target)
    const paths = [placed.path, ...placed.beside]
    if (paths.some(path => place === resolve(path)))
      throw new BadInput('same-file', target, 'the path', 'is the art itself', 'Choose another name')
    const task = progressTask(output, `Reading ${basename(placed.path)}`)
    const { file: art, close } = await openArt(placed, reading, task)
    try {
      const assigned = await rolesForJob(art, noDecisions, task)
      const seen = await seenArt(art, task)
      const [first, ...beside] = await Promise.all(
        paths.map(async path => ({ path: artPathFor(place, path), sha256: await hashFile(path, task) })),
      )
      output.progress(null)
      const how = beside.length === 0 ? reading : { ...reading, beside }
      const fresh = newJob(art.art, first!.sha256, first!.path, assigned, how, seen)
      const { job: base, change } =
        kept === null ? { job: fresh, change: null } : overArt(kept, fresh, target)
      const made = { ...base, print: { ...base.print, ...print } }
      await writeFileSafely(place, jobText(made))
      const asked = assigned.filter(one => one.askAmount).length
      const open = asked === 0 ? '' : `; ${counted(asked, 'amount')} to look at in the app`
      output.say(`Wrote ${target} with ${counted(made.found.length, 'part')}${open}.`)
      if (kept !== null) sayKept(change, lostIn(made, art.art), output)
      const objects = art.art.page?.inexact ?? []
      const faults = [...art.art.findings, ...assumptions(art.art)].filter(
        one => one.severity !== 'note' && !objects.includes(one),
      )
      if (faults.length > 0)
        output.say(
          `Note: ${counted(faults.length, 'fault')} of the art; inspect lists ${faults.length === 1 ? 'it' : 'them'}.`,
        )
      if (objects.length > 0 && reading.readAs !== 'layers')
        output.say(
          `Note: ${counted(objects.length, 'object')} cannot be told ink by ink; inspect lists them, --layers-only goes by layers.`,
        )
    } finally {
      await close()
    }
  },
}

/** What the job decides of parts that are gone, and parts that are now read otherwise. */
const lostIn = (job: Job, art: Art): readonly string[] =>
  jobFindings(job, art).map(({ where, message, fix }) => `${where}: ${message}. ${fix}`)

/** What the flags say of the print condition. Rejects with BadInput when the profile is none. */
async function printOf(args: Args, jobPath: string): Promise<Partial<Job['print']>> {
  const path = args.value('profile')
  const named = args.value('intent')
  const intent = intents.find(one => one === named)
  if (named !== undefined && intent === undefined)
    throw new UsageError(`--intent: expected ${intents.join(', ')}, got "${named}"`)
  if (path !== undefined) await checkProfile(path)
  return {
    ...(intent === undefined ? {} : { intent }),
    ...(path === undefined
      ? {}
      : { profile: { path: artPathFor(jobPath, path), sha256: await hashFile(path) } }),
  }
}
