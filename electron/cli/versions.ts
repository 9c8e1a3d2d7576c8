import { basename } from 'node:path'
import { type JobChange, versionChanges } from '../../core/proof/changes.ts'
import { costWords, sumOf } from '../../core/proof/cost.ts'
import { shortId } from '../../core/proof/version.ts'
import { listVersions } from '../version-book.ts'
import { versionNow } from '../version-sources.ts'
import { jobAtWork, jobFlags } from './at-work.ts'
import { type Command, jsonFlag } from './command.ts'
import { progressTask } from './progress.ts'
import { table } from './table.ts'

export const versions: Command = {
  usage: {
    name: 'versions',
    says: 'versions of a job that went out, what changed from one to the next, and what has since',
    operands: ['JOB'],
    flags: { ...jsonFlag, ...jobFlags },
  },
  async run(args, output) {
    const jobPath = args.operands[0]!
    const name = basename(jobPath)
    const task = progressTask(output, `Reading ${name}`)
    const opened = await jobAtWork(args, jobPath, output, task)
    const now = await versionNow(opened, name, new Date().toISOString(), task)
    output.progress(null)
    const listed = await listVersions(jobPath)
    const all = listed.map(({ version, files }, i) => {
      const before = listed[i - 1]?.version
      return {
        id: version.id,
        madeAt: version.madeAt,
        program: version.program,
        data: version.data,
        files,
        changes: before === undefined ? [] : versionChanges(before, version),
      }
    })
    const newest = listed.at(-1)?.version
    const since = newest === undefined ? [] : versionChanges(newest, now)
    if (args.has('json')) return output.print(JSON.stringify({ job: name, versions: all, since }, null, 2))
    if (newest === undefined)
      return output.print(`${name} has no versions yet. Every proof that is written is one.`)
    const rows = all.map(one => [
      shortId(one.id),
      one.madeAt.slice(0, 16).replace('T', ' '),
      one.program,
      one.files.map(file => file.name).join(', '),
    ])
    output.print(
      table([['version', 'made (UTC)', 'rakelight', 'files'], ...rows], ['left', 'left', 'left', 'left']),
    )
    for (const { id, changes } of all)
      if (changes.length > 0) output.print(`\nWhat ${shortId(id)} changed:\n${changeLines(changes)}`)
    output.print(
      since.length === 0
        ? `\nThe job is as in ${shortId(newest.id)}.`
        : `\nSince ${shortId(newest.id)} the job was edited; after release that would cost: ${costWords(sumOf(since.map(one => one.cost)))}.\n${changeLines(since)}`,
    )
  },
}

/** Changes as lines of a terminal: what, what it costs, why. */
export function changeLines(changes: readonly JobChange[]): string {
  return changes.map(({ words, cost, why }) => `  ${words}\n    costs ${costWords(cost)}: ${why}`).join('\n')
}
