import { resolve } from 'node:path'
import { readArt } from '../../core/art/read.ts'
import { BadInput } from '../../core/base/finding.ts'
import { intents } from '../../core/color/profile.ts'
import type { Job } from '../../core/job/job.ts'
import { newJob } from '../../core/job/new.ts'
import { jobText } from '../../core/job/parse.ts'
import { noDecisions, rolesForJob } from '../art-work.ts'
import { openFile } from '../file-source.ts'
import { hashFile } from '../hash-file.ts'
import { artPathFor } from '../job-art.ts'
import { checkProfile } from '../press.ts'
import { writeFileSafely } from '../write-file.ts'
import { type Args, UsageError } from './args.ts'
import type { Command } from './command.ts'
import { progressTask } from './progress.ts'
import { counted } from './table.ts'

export const job: Command = {
  usage: {
    name: 'job',
    says: 'make a job file for a layered file',
    operands: ['ART'],
    flags: {
      output: { value: 'FILE', short: 'o', needed: true, says: 'where to write the job' },
      profile: { value: 'FILE', says: 'ICC profile of the printing; without it the one that ships' },
      intent: { value: 'NAME', says: `how colours on white follow it: ${intents.join(', ')}` },
    },
  },
  async run(args, output) {
    const target = args.need('output')
    const print = await printOf(args, resolve(target))
    const file = await openFile(args.operands[0]!)
    try {
      const place = resolve(target)
      if (place === resolve(file.path))
        throw new BadInput('same-file', target, 'the path', 'is the art itself', 'Choose another name')
      const task = progressTask(output, `Reading ${file.name}`)
      const art = await readArt(file, {}, task)
      const assigned = await rolesForJob(art, noDecisions, task)
      const sha256 = await hashFile(file.path, task)
      output.progress(null)
      const fresh = newJob(art.art, sha256, artPathFor(place, file.path), assigned)
      const made = { ...fresh, print: { ...fresh.print, ...print } }
      await writeFileSafely(place, jobText(made))
      const asked = assigned.filter(one => one.askAmount).length
      const open = asked === 0 ? '' : `; ${counted(asked, 'amount')} to look at in the app`
      output.say(`Wrote ${target} with ${counted(made.found.length, 'part')}${open}.`)
    } finally {
      await file.close()
    }
  },
}

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
