import type { CodeReader } from '../base/code-reader.ts'
import { accounting } from './accounting/check.ts'
import { codesCheck } from './codes/check.ts'
import type { BoxMm } from './finding.ts'
import { glareCheck } from './glare/glare.ts'
import type { CheckInput, CheckPart } from './input.ts'
import { legibility } from './legibility/usual.ts'
import { markedBox } from './marked.ts'
import { preflightCheck } from './preflight/check.ts'
import { register } from './register/check.ts'
import { whiteCheck } from './white/check.ts'

/** Every check, in the order of `checkNames`. @param reader finds and decodes codes */
export const checkParts = (reader: CodeReader): readonly CheckPart[] => [
  legibility,
  codesCheck(reader),
  register,
  {
    ...whiteCheck(),
    run: (input, task) => whiteCheck(marked(input, ['code', 'brand-colour'])).run(input, task),
  },
  glareCheck,
  accounting,
  {
    ...preflightCheck(),
    run: (input, task) => preflightCheck(marked(input, ['text', 'code'])).run(input, task),
  },
]

/** Areas that somebody marked as one of these kinds, each as the box around it. */
function marked<K extends string>(
  input: CheckInput,
  kinds: readonly K[],
): readonly { readonly name: string; readonly kind: K; readonly box: BoxMm }[] {
  return (input.marked ?? []).flatMap(area => {
    const kind = kinds.find(one => one === area.kind)
    const box = markedBox(area)
    return kind === undefined || box === null ? [] : [{ name: area.name, kind, box }]
  })
}
