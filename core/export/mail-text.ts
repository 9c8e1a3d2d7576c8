import { shortCaution } from '../proof/caution.ts'
import { proofLabel } from '../proof/names.ts'
import { type ProofVersion, shortId } from '../proof/version.ts'

/** What each kind of file is, for who gets it. */
const saysOf: readonly (readonly [ending: string, says: string])[] = [
  ['.html', 'the proof: the carton under a lamp that you move'],
  ['.pdf', 'pictures, assumptions and findings, to print'],
  ['.mp4', 'a short movie of it'],
  ['.webm', 'a short movie of it'],
  ['.gif', 'a short moving picture of it'],
]

/** The text that goes with a proof by mail: what is there, how to open it, how to put it where a phone can. */
export function mailText({ jobName, id, madeAt }: ProofVersion, names: readonly string[]): string {
  const page = names.find(name => name.endsWith('.html')) ?? 'the proof'
  const width = Math.max(...names.map(name => name.length))
  const lines = names.map(name => {
    const says = saysOf.find(([ending]) => name.endsWith(ending))?.[1] ?? ''
    return `  ${name.padEnd(width)}  ${says}`.trimEnd()
  })
  return `${[
    jobName,
    `${proofLabel}, version ${shortId(id)}, made ${madeAt.slice(0, 16).replace('T', ' ')} UTC`,
    '',
    shortCaution,
    '',
    'What is here',
    ...lines,
    '',
    'How to open the proof',
    '  1. Save this zip and unpack it. Mail programs take such pages out, and previews in mail and on phones run no scripts:',
    '     they show its still pictures only.',
    `  2. Open ${page} in a current browser with WebGL 2. It needs no network, loads nothing and sends nothing.`,
    '  3. Drag, or use the arrow keys, to tilt the carton.',
    '',
    'How to put it on a phone',
    `  Lay ${page} on a web server of yours that is reached by https, and open its address. Where the phone allows it, the proof`,
    '  can then follow the phone’s own tilt; it asks first. The page brings its own content policy: a server that sets a stricter',
    '  one must let inline scripts and styles of this page run by their hashes, and workers from blob:.',
    '',
    'Movement and light',
    '  Holography can flash while it moves. Who is sensitive to flashing light should tilt slowly or look at the PDF.',
  ].join('\n')}\n`
}
