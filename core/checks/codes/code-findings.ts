import type { Task } from '../../base/task.ts'
import type { CheckFinding } from '../finding.ts'
import { artTile } from './art-tile.ts'
import { barFindings } from './bar-findings.ts'
import type { FoundCode } from './find.ts'
import { matrixFindings } from './matrix-findings.ts'
import { boxAround, cornersOf } from './place.ts'
import { type CodeGround, estimate } from './told.ts'

/** Ground beside a code that is looked at with it, as part of its length, mm of a small one: more than margins and text. */
const [beside, smallMm] = [0.25, 8]

/** How far from a code its light margins and its text lie at most, mm. */
export const marginsAround = ({ lengthMm }: FoundCode['frame']): number =>
  beside * Math.max(lengthMm, smallMm)

/** All that is to be said of one code. @param key what its findings are named by */
export async function codeFindings(
  { input, ...rest }: Omit<CodeGround, 'tile'>,
  code: FoundCode,
  key: string,
  task?: Task,
): Promise<readonly CheckFinding[]> {
  const { frame, modules } = code
  const rough = boxAround(cornersOf(frame), marginsAround(frame))
  const ground: CodeGround = { input, ...rest, tile: await artTile(input, rough, task) }
  const told = modules === null ? barFindings(ground, code) : matrixFindings(ground, code, modules)
  return told.map(finding => ({
    check: 'codes',
    key: `codes/${key}/${finding.code}`,
    where: `${code.kind} ${code.text}`,
    box: boxAround(cornersOf(frame)),
    held: null,
    measured: null,
    limit: null,
    remedy: null,
    ...finding,
    message: `${finding.message}. ${estimate}`,
  }))
}
