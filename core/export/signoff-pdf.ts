import { costWords } from '../proof/cost.ts'
import { proofLabel } from '../proof/names.ts'
import type { Broken } from '../proof/read-signoff.ts'
import { type Round, roundOf } from '../proof/round.ts'
import {
  type Decision,
  decisionWords,
  roleTerms,
  type SignedDecision,
  type SignedFile,
  type SignoffRecord,
  viewingWords,
} from '../proof/signoff.ts'
import type { SignoffStanding } from '../proof/standing.ts'
import { shortId } from '../proof/version.ts'
import { makePdf } from './pdf/document.ts'
import { type Flow, styles } from './pdf/flow.ts'
import { border, columnWidth } from './pdf/paper.ts'
import { type Captioned, pictureGrid } from './pdf/picture-grid.ts'
import { type Cell, facts, table } from './pdf/table.ts'
import { instant, sources, substitutes } from './proof-sheet.ts'

/** What is printed of a sign-off. */
export interface SignOffSheet {
  readonly record: SignoffRecord
  /** The record's own file. */
  readonly file: SignedFile
  /** Where the record is not what its own hashes say. */
  readonly broken: readonly Broken[]
  /** Whether what was signed is what there is now; null where that cannot be told. */
  readonly standing: SignoffStanding | null
  /** Version of rakelight. */
  readonly program: string
  /** ISO 8601, UTC: when it was printed. */
  readonly madeAt: string
}

export interface SignOffInput extends SignOffSheet {
  /** Of what was signed; none where its files are no longer those. */
  readonly pictures: readonly Captioned[]
}

/** A record of sign-off to be printed: PDF of A4, the same bytes for the same input. */
export function signOffPdf(input: SignOffInput): Promise<Uint8Array<ArrayBuffer>> {
  const { record, program, madeAt } = input
  const { jobName, id } = record.of
  return makePdf(
    {
      title: `Sign-off of ${jobName}`,
      subject: `Version ${id}`,
      producer: `rakelight ${program}`,
      madeAt,
      foot: `Sign-off of ${jobName} · version ${shortId(id)} · printed ${instant(madeAt)} · ${proofLabel}`,
    },
    flow => drawSheet(flow, input),
  )
}

function drawSheet(flow: Flow, input: SignOffInput): void {
  const { record, standing, pictures } = input
  const round = roundOf(record)
  const decisions = record.entries.filter(one => one.kind === 'decision')
  flow.paragraph('Sign-off', styles.title)
  flow.paragraph(record.of.jobName, styles.heading)
  flow.gap(4)
  bands(flow, input, round)
  about(flow, input)
  flow.heading('Who was asked', 70)
  people(flow, round)
  flow.heading(`What was decided (${decisions.length})`, 80)
  history(flow, decisions)
  flow.heading('What was looked at', 160)
  if (pictures.length > 0) pictureGrid(flow, pictures, 4)
  else
    flow.paragraph(
      'The files are not those that were signed, or are not there: pictures of it cannot be made any more.',
    )
  if (standing?.kind === 'superseded') {
    flow.heading('What was changed since, and what that costs after release', 90)
    changes(flow, standing)
  }
  flow.heading('By hand', 110)
  signatures(flow, round)
  flow.heading('What it was made from', 90)
  sources(flow, record.of)
  flow.heading('The record', 90)
  chain(flow, input)
  flow.heading('What this is worth', 70)
  flow.paragraph(record.statement)
  substitutes(flow)
}

/** The outcome, and what takes it back, as bands that nobody overlooks. */
function bands(flow: Flow, { broken, standing }: SignOffInput, round: Round): void {
  band(flow, outcome(round), [0.9, 0.93, 0.9])
  if (broken.length > 0)
    band(
      flow,
      `Not to be trusted: this record was changed after it was written (${broken.map(one => `${one.where} ${one.message}`).join('; ')}).`,
      [0.97, 0.86, 0.84],
    )
  if (standing?.kind === 'superseded')
    band(
      flow,
      `Superseded: what was signed is not what there is now. After release the change costs: ${costWords(standing.cost)}.`,
      [0.97, 0.86, 0.84],
    )
  if (standing?.kind === 'stands') band(flow, 'What was signed is what there is now.', [0.93, 0.93, 0.93])
  if (standing === null)
    band(flow, 'Whether what was signed is what there is now was not told.', [0.93, 0.93, 0.93])
  band(flow, proofLabel, [0.93, 0.93, 0.93])
  flow.gap(4)
}

function band(flow: Flow, text: string, rgb: readonly [number, number, number]): void {
  const lines = flow.lines(text, styles.strong, columnWidth - 12)
  const high = lines.length * 12 + 7
  flow.need(high)
  flow.box(border.left, flow.y, columnWidth, high, rgb)
  for (const [i, line] of lines.entries())
    flow.put(line, border.left + 6, flow.y + 12.5 + 12 * i, styles.strong)
  flow.gap(high + 3)
}

function outcome({ people: asked, state }: Round): string {
  const last = asked.filter(one => one.role === 'Approvinator' && one.said === null).map(one => one.name)
  switch (state.kind) {
    case 'open':
      return state.waiting.length === 0
        ? 'Open: nobody who must approve was asked.'
        : `Open: waits for ${state.waiting.join(', ')}.`
    case 'decided':
      return `${decisionWords[state.decision]}: all who must approve have decided.${last.length === 0 ? '' : ` ${last.join(', ')} may still say otherwise, and then ends the round.`}`
    case 'ended':
      return `${decisionWords[state.decision]}: said by ${state.by}, who has the final say.`
  }
}

const hash = (text: string): Cell => ({ text, style: styles.hash })

function about(flow: Flow, { record: { of, proof, supersedes } }: SignOffInput): void {
  facts(flow, [
    ['Version', hash(of.id)],
    ['Made', `${instant(of.madeAt)} with rakelight ${of.program}`],
    [
      'Proof that was looked at',
      proof === null ? 'none: the job itself' : `${proof.name}, ${proof.bytes} bytes`,
    ],
    ...(proof === null ? [] : [['SHA-256 of the proof', hash(proof.sha256)] as const]),
    ...(supersedes === null
      ? []
      : [['Takes the place of', `${supersedes.name}, seal ${supersedes.seal.slice(0, 16)}…`] as const]),
  ])
}

function people(flow: Flow, { people: asked }: Round): void {
  if (asked.length === 0) {
    flow.paragraph('Nobody.')
    return
  }
  table(
    flow,
    [
      { head: 'Name', part: 60 },
      { head: 'Role', part: 34 },
      { head: 'Decision', part: 40 },
      { head: 'When', part: 40 },
    ],
    asked.map(({ name, role, said }) => [
      { text: name, style: styles.cellStrong },
      roleTerms[role],
      said === null ? 'has not decided' : decisionWords[said.decision],
      said === null ? '' : instant(said.at),
    ]),
  )
}

function history(flow: Flow, decisions: readonly SignedDecision[]): void {
  if (decisions.length === 0) {
    flow.paragraph('Nothing yet.')
    return
  }
  table(
    flow,
    [
      { head: 'Who, when', part: 38 },
      { head: 'Decision', part: 37 },
      { head: 'Conditions and reason', part: 54 },
      { head: 'Where and on what it was looked at', part: 50 },
    ],
    decisions.map(one => [
      `${one.by} (${roleTerms[one.role]})\n${instant(one.at)}`,
      { text: `${decisionWords[one.decision]}\n${storedAs(one.decision)}`, style: styles.cell },
      [...one.conditions.map(text => `• ${text}`), one.reason].filter(text => text !== '').join('\n') ||
        'none',
      seenBy(one),
    ]),
  )
}

/** Name that the job-ticket schema has for it. */
const storedAs = (decision: Decision): string => `XJDF ${decision}`

function seenBy({ viewing, display, notes }: SignedDecision): string {
  const said = (parts: readonly string[]): string => parts.filter(part => part !== '').join(', ')
  const lines = [
    viewing === null
      ? 'light: not said'
      : said([
          viewingWords[viewing.condition],
          viewing.lux === null ? '' : `${viewing.lux} lx measured`,
          viewing.light,
          viewing.room,
        ]),
    display === null
      ? 'display: not said'
      : said([
          display.kind,
          display.white === '' ? '' : `white ${display.white}`,
          display.luminance === null ? '' : `${display.luminance} cd/m²`,
          display.profile === '' ? 'no profile named' : `profile ${display.profile}`,
          display.calibratedOn === null ? 'calibration not said' : `calibrated ${display.calibratedOn}`,
        ]),
    notes === null ? '' : `notes: ${notes.open} open, ${notes.settled} settled (${notes.sha256.slice(0, 8)})`,
  ]
  return lines.filter(line => line !== '').join('\n')
}

function changes(flow: Flow, { changes: all, cost }: Extract<SignoffStanding, { kind: 'superseded' }>): void {
  table(
    flow,
    [
      { head: 'What', part: 24 },
      { head: 'From, to', part: 70 },
      { head: 'Costs', part: 30 },
      { head: 'Why', part: 54 },
    ],
    all.map(one => [{ text: one.what, style: styles.cellStrong }, one.words, costWords(one.cost), one.why]),
  )
  flow.gap(3)
  flow.paragraph(`Together: ${costWords(cost)}.`, styles.strong)
}

/** Lines to sign on, one for each person who was asked and one more. */
function signatures(flow: Flow, { people: asked }: Round): void {
  const third = (columnWidth - 24) / 3
  for (const name of [...asked.map(one => `${one.name}, ${roleTerms[one.role]}`), 'Name']) {
    flow.need(44)
    flow.gap(26)
    for (const [i, text] of [name, 'Day', 'Signature'].entries()) {
      const x = border.left + i * (third + 12)
      flow.rule(x, flow.y, third, 0.3)
      const [line = ''] = flow.lines(text, styles.caption, third)
      flow.put(line, x, flow.y + 10, styles.caption)
    }
    flow.gap(14)
  }
}

/** The record's file and its entries by their hashes, each of which holds the one before. */
function chain(flow: Flow, { record, file }: SignOffInput): void {
  table(
    flow,
    [
      { head: '', part: 14 },
      { head: '', part: 57 },
      { head: 'SHA-256', part: 103 },
    ],
    [
      ['File', `${file.name}, ${file.bytes} bytes`, hash(file.sha256)],
      ['Seal', 'of all that stands in it', hash(record.seal)],
      ...record.entries.map((entry, i) => [
        `Entry ${i + 1}`,
        `${entry.by}, ${instant(entry.at)}`,
        hash(entry.sha256),
      ]),
    ],
  )
  flow.gap(3)
  flow.paragraph(
    'Whether record, job, files and proof are still these is told by: rakelight verify, with the record.',
    styles.caption,
  )
}
