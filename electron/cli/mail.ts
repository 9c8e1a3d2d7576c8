import { mkdtemp, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { basename, join } from 'node:path'
import { zipSync } from 'fflate'
import { BadInput } from '../../core/base/finding.ts'
import { mailText } from '../../core/export/mail-text.ts'
import { besideJob } from '../../core/proof/names.ts'
import type { Note } from '../../core/proof/notes.ts'
import type { ProofVersion } from '../../core/proof/version.ts'
import { findEncoder } from '../ffmpeg.ts'
import type { JobAtWork } from '../open-job.ts'
import { type Args, readArgs } from './args.ts'
import { jobFlags } from './at-work.ts'
import type { Output } from './command.ts'
import { movie } from './movie.ts'
import { inPictureWorker, workFrom } from './picture-worker.ts'
import { progressTask } from './progress.ts'

export interface MailPart {
  readonly name: string
  readonly bytes: Uint8Array
}

/** Small enough for mail, and large enough to see what moves. */
const movieFlags = ['--size', '480x360', '--rate', '12', '--damp']

/** The page with all that goes into the mail beside it. A job without a lamp path has no movie. */
export async function mailParts(
  args: Args,
  proof: {
    readonly jobPath: string
    readonly opened: JobAtWork
    readonly of: ProofVersion
    readonly notes: readonly Note[]
    readonly page: MailPart
  },
  output: Output,
): Promise<readonly MailPart[]> {
  const { jobPath, opened, of, notes, page } = proof
  const folder = await mkdtemp(join(tmpdir(), 'rakelight-mail-'))
  const stem = basename(besideJob(basename(jobPath), 'proof'), '.proof.html')
  // The movie lies in a folder that nobody is to look for.
  const quiet: Output = {
    ...output,
    print: () => undefined,
    say: text => void (/^Wrote /.test(text) || output.say(text)),
  }
  const also = Object.entries(jobFlags).flatMap(([name, { value }]) =>
    args.has(name) ? [`--${name}`, ...(value === null ? [] : [args.need(name)])] : [],
  )
  const name = `${stem}.${movieEnding()}`
  const flags = ['-o', join(folder, name), ...movieFlags, ...also]
  try {
    const moving = of.job.paths.length > 0
    if (moving) await movie.run(readArgs(movie.usage, [jobPath, ...flags]), quiet)
    const sheet = await inPictureWorker(
      'sheet',
      { ...workFrom(opened), version: of, notes },
      progressTask(output, `Proof sheet of ${basename(jobPath)}`),
    )
    output.progress(null)
    const parts = [
      page,
      ...(moving ? [{ name, bytes: new Uint8Array(await readFile(join(folder, name))) }] : []),
      { name: `${stem}.pdf`, bytes: sheet },
    ]
    const text = mailText(
      of,
      parts.map(part => part.name),
    )
    return [{ name: 'How to open.txt', bytes: new TextEncoder().encode(text) }, ...parts]
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}

/** What most players take, or what needs no encoder. */
function movieEnding(): string {
  for (const kind of ['mp4', 'webm'] as const)
    try {
      findEncoder({ kind, width: 480, height: 360, rate: 12, bitrate: 1, clear: false })
      return kind
    } catch (error) {
      if (!(error instanceof BadInput)) throw error
    }
  return 'gif'
}

/** The parts as one zip; their time is the proof's, so that the same parts make the same bytes. */
export function zipped(parts: readonly MailPart[], madeAt: string): Uint8Array {
  return zipSync(Object.fromEntries(parts.map(({ name, bytes }) => [name, bytes])), {
    // A zip knows local time alone: the words of the instant, wherever it is made.
    mtime: madeAt.slice(0, 19),
    level: 6,
  })
}
