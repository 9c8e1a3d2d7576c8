import { basename, dirname, join } from 'node:path'
import { BadInput } from '../../core/base/finding.ts'
import { costWords } from '../../core/proof/cost.ts'
import type { Round } from '../../core/proof/round.ts'
import { decisionWords, roleTerms } from '../../core/proof/signoff.ts'
import { shortId } from '../../core/proof/version.ts'
import { isAsSigned, verifyRecord } from '../verify.ts'
import { jobFlags } from './at-work.ts'
import { type Command, jsonFlag } from './command.ts'
import { printSignOff } from './print-signoff.ts'
import { progressTask } from './progress.ts'
import { table } from './table.ts'
import { changeLines } from './versions.ts'

export const verify: Command = {
  usage: {
    name: 'verify',
    says: 'whether a record of sign-off, its job, its files and its proof are still what was signed; fails where not',
    operands: ['RECORD'],
    flags: {
      job: { value: 'JOB', says: 'the job and its files, where they do not lie beside the record' },
      pdf: {
        value: 'FILE',
        says: 'prints the record, with pictures where its files are as signed: PDF of A4',
      },
      ...jsonFlag,
      'allow-outside': jobFlags['allow-outside'],
    },
  },
  async run(args, output) {
    const path = args.operands[0]!
    const name = basename(path)
    const task = progressTask(output, `Verifying ${name}`)
    const found = await verifyRecord(path, args.value('job') ?? null, args.has('allow-outside'), task)
    output.progress(null)
    const { record, round, lines, standing } = found
    const asSigned = isAsSigned(found)
    if (args.has('json'))
      output.print(
        JSON.stringify({ record: name, version: record.of.id, asSigned, lines, round, standing }, null, 2),
      )
    else {
      output.print(`Version ${shortId(record.of.id)} of ${record.of.jobName}, ${record.of.madeAt}`)
      output.print(
        table(
          lines.map(line => [line.state, line.what, line.name, line.says]),
          ['left', 'left', 'left', 'left'],
          2,
        ),
      )
      output.print(`\n${roundLines(round)}`)
      if (standing?.kind === 'superseded')
        output.print(
          `\nSuperseded. After release it costs: ${costWords(standing.cost)}.\n${changeLines(standing.changes)}`,
        )
      output.print(`\n${record.statement}`)
    }
    const pdf = args.value('pdf')
    if (pdf !== undefined) {
      const jobPath = args.value('job') ?? join(dirname(path), basename(record.of.jobName))
      await printSignOff(path, jobPath, args, pdf, output)
    }
    if (asSigned) return
    const wrong = lines.filter(one => one.state !== 'same')
    const changed = wrong.filter(one => one.state === 'changed')
    const named = changed.length === 0 ? wrong : changed
    throw new BadInput(
      'not-as-signed',
      name,
      [...new Set(named.map(one => one.what))].join(', '),
      changed.length === 0 ? 'not there to be looked at' : 'not as signed',
      changed.length === 0
        ? 'Put it beside the record, or name the job by --job'
        : 'Make a new proof and have it approved, or put back what was signed',
    )
  },
}

/** A round as lines of a terminal. */
export function roundLines({ people, state }: Round): string {
  const rows = people.map(({ name, role, said }) => [
    name,
    roleTerms[role],
    said === null ? 'has not decided' : decisionWords[said.decision],
    said === null ? '' : [...said.conditions, said.reason].filter(text => text !== '').join('; '),
  ])
  const all = table(rows, ['left', 'left', 'left', 'left'], 2)
  switch (state.kind) {
    case 'open':
      return `${all}\nOpen: ${state.waiting.length === 0 ? 'nobody who must approve was asked' : `waits for ${state.waiting.join(', ')}`}.`
    case 'decided':
      return `${all}\nDecided: ${decisionWords[state.decision]}.`
    case 'ended':
      return `${all}\nEnded by ${state.by}, who has the final say: ${decisionWords[state.decision]}.`
  }
}
