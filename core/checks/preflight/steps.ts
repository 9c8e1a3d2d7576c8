import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { found } from './found.ts'

/** What the art says of its processing steps that ISO 19593-1 does not have, layer by layer. */
export function stepProblems({ art }: CheckInput): readonly CheckFinding[] {
  const told = art.layers.flatMap(({ findings }) => findings.filter(({ code }) => code.startsWith('step-')))
  return told.map(({ severity, code, where, message, fix }, i) =>
    found({ severity, code, of: `${where} ${i}`, where, message, fix }),
  )
}
