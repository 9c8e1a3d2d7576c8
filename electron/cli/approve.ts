import { basename, dirname, join } from 'node:path'
import type { Task } from '../../core/base/task.ts'
import type { SignedLayer } from '../../core/proof/layers.ts'
import { roundOf, type SignWish } from '../../core/proof/round.ts'
import {
  type DisplayState,
  decisionNames,
  decisionWords,
  roleTerms,
  type Signer,
  signerRoles,
  type Viewing,
  viewingConditions,
} from '../../core/proof/signoff.ts'
import { type ProofVersion, shortId } from '../../core/proof/version.ts'
import { artLayers } from '../art-layers.ts'
import { hashFile } from '../hash-file.ts'
import { findBeside } from '../job-art.ts'
import { passwordName, placeArt } from '../open-job.ts'
import { isProofName, openProof } from '../open-proof.ts'
import { signedFile, signingOf } from '../signing.ts'
import { addToRecord, notesSeen, type Signing, signoffPath } from '../signoff-book.ts'
import { type Args, UsageError } from './args.ts'
import { jobAtWork, jobFlags } from './at-work.ts'
import { type Command, jsonFlag, type Output } from './command.ts'
import { printSignOff } from './print-signoff.ts'
import { progressTask } from './progress.ts'
import { roundLines } from './verify.ts'

const list = (words: Readonly<Record<string, string>>) => Object.values(words).join(', ')

export const approve: Command = {
  usage: {
    name: 'approve',
    says: 'adds a decision, or who is asked for one, to the record of a job’s sign-off',
    operands: ['JOB|PROOF'],
    flags: {
      as: { value: 'NAME', needed: true, says: 'who speaks' },
      role: { value: 'ROLE', says: list(roleTerms) },
      decision: { value: 'TEXT', says: list(decisionWords) },
      condition: { value: 'TEXT', says: 'conditions, parted by semicolons' },
      reason: { value: 'TEXT', says: 'why; needed where a new proof is' },
      viewing: {
        value: 'P1|P2|room,LUX,LIGHT,ROOM',
        says: 'where it was looked at: booth of ISO 3664 or room light; the rest may be left out',
      },
      display: {
        value: 'KIND,WHITE,CD/M2,PROFILE,DAY',
        says: 'what it was looked at on, and the day it was calibrated; all but the first may be left out',
      },
      ask: { value: 'NAME: ROLE; …', says: 'who is asked; those who were asked before stay' },
      out: {
        value: 'FILE',
        short: 'o',
        says: 'the record; NAME.signoff.json beside the job when left out',
      },
      pdf: { value: 'FILE', says: 'prints the record too, with pictures: PDF of A4' },
      ...jsonFlag,
      ...jobFlags,
    },
  },
  async run(args, output) {
    const wish = wishOf(args)
    const path = args.operands[0]!
    const at = new Date().toISOString()
    const { signing, jobPath } = await signingAt(args, path, at, output)
    const target = args.value('out') ?? signoffPath(jobPath)
    const notes = await notesSeen(jobPath)
    const record = await addToRecord(target, signing, wish, at, notes)
    const round = roundOf(record)
    const name = basename(target)
    const pdf = args.value('pdf')
    if (pdf !== undefined) await printSignOff(target, jobPath, args, pdf, output)
    if (args.has('json'))
      return output.print(
        JSON.stringify({ record: name, version: record.of.id, proof: record.proof, round }, null, 2),
      )
    output.print(`Version ${shortId(record.of.id)} of ${record.of.jobName}\n${roundLines(round)}`)
    if (record.supersedes !== null && record.entries.length <= 2)
      output.say(`The record before it is kept as ${record.supersedes.name}.`)
    output.say(`Wrote ${join(dirname(target), name)}.`)
  },
}

/** What is signed, and where its job is or would be: a proof may lie alone. */
async function signingAt(
  args: Args,
  path: string,
  at: string,
  output: Output,
): Promise<{ readonly signing: Signing; readonly jobPath: string }> {
  const task = progressTask(output, `Reading ${basename(path)}`)
  if (isProofName(path)) {
    const { version } = await openProof(path)
    const jobPath = join(dirname(path), basename(version.jobName))
    const proof = await signedFile(path, basename(path), task)
    return { signing: { version, proof, layers: () => layersBeside(jobPath, version, task) }, jobPath }
  }
  const opened = await jobAtWork(args, path, output, task)
  const signing = await signingOf(path, opened, at, () => artLayers(opened.art, opened.job, task), task)
  output.progress(null)
  return { signing, jobPath: path }
}

/** Parts of the art that a proof was made from, where that still lies beside it. */
async function layersBeside(
  jobPath: string,
  { job, sources }: ProofVersion,
  task: Task,
): Promise<readonly SignedLayer[]> {
  const art = sources.find(one => one.kind === 'art')
  if (art === undefined) return []
  const place = await findBeside(jobPath, art.name, false)
  if (place.state !== 'found' || (await hashFile(place.path, task)) !== art.sha256) return []
  const placed = job.art && (await placeArt(jobPath, job.art, false, process.env[passwordName] ?? null))
  return artLayers(placed, job, task)
}

function wishOf(args: Args): SignWish {
  const [decision, role, ask] = [args.value('decision'), args.value('role'), args.value('ask')]
  if (decision === undefined && ask === undefined)
    throw new UsageError('approve: --decision is missing, or --ask')
  if ((decision === undefined) !== (role === undefined))
    throw new UsageError('approve: --decision and --role go together')
  return {
    by: args.need('as'),
    ask: ask === undefined ? [] : ask.split(';').map(askedOf),
    decision:
      decision === undefined || role === undefined
        ? null
        : {
            role: named(signerRoles, roleTerms, role, '--role'),
            decision: named(decisionNames, decisionWords, decision, '--decision'),
            conditions: (args.value('condition') ?? '')
              .split(';')
              .map(text => text.trim())
              .filter(text => text !== ''),
            reason: args.value('reason') ?? '',
            viewing: viewingOf(args.value('viewing')),
            display: displayOf(args.value('display')),
          },
  }
}

function askedOf(text: string): Signer {
  const at = text.lastIndexOf(':')
  if (at < 0) throw new UsageError(`--ask: expected NAME: ROLE, got "${text.trim()}"`)
  return {
    name: text.slice(0, at).trim(),
    role: named(signerRoles, roleTerms, text.slice(at + 1).trim(), '--ask'),
  }
}

/** A name of the file, or the words that people read for it; capitals do not count. */
function named<T extends string>(
  names: readonly T[],
  words: Readonly<Record<T, string>>,
  text: string,
  flag: string,
): T {
  const wanted = text.trim().toLowerCase()
  const found = names.find(name => name.toLowerCase() === wanted || words[name].toLowerCase() === wanted)
  if (found !== undefined) return found
  throw new UsageError(`${flag}: expected ${names.map(name => `"${words[name]}"`).join(', ')}, got "${text}"`)
}

function viewingOf(text: string | undefined): Viewing | null {
  if (text === undefined) return null
  const [condition = '', lux = '', light = '', ...room] = text.split(',').map(part => part.trim())
  const found = viewingConditions.find(one => one.toLowerCase() === condition.toLowerCase())
  if (found === undefined)
    throw new UsageError(`--viewing: expected ${viewingConditions.join(', ')}, got "${condition}"`)
  return { condition: found, lux: measured(lux, '--viewing: LUX'), light, room: room.join(', ') }
}

function displayOf(text: string | undefined): DisplayState | null {
  if (text === undefined) return null
  const [kind = '', white = '', luminance = '', profile = '', day = ''] = text
    .split(',')
    .map(part => part.trim())
  return {
    kind,
    white,
    luminance: measured(luminance, '--display: CD/M2'),
    profile,
    calibratedOn: day === '' ? null : day,
  }
}

function measured(text: string, place: string): number | null {
  if (text === '') return null
  const value = Number(text)
  if (Number.isFinite(value)) return value
  throw new UsageError(`${place}: expected a number, got "${text}"`)
}
