import type { CodeReader } from '../../base/code-reader.ts'
import { checkCancelled, type Task } from '../../base/task.ts'
import type { CheckFinding } from '../finding.ts'
import type { CheckInput, CheckPart } from '../input.ts'
import { kept } from '../keeper.ts'
import { type AppliedLimit, applied } from '../limits.ts'
import { partOfMap } from '../map-part.ts'
import { registerLimit } from '../register/tolerance.ts'
import { codeFindings, marginsAround } from './code-findings.ts'
import { type FoundCode, keptSearch } from './find.ts'
import { keptReaderTables } from './light.ts'
import { type CodeLimitName, codeLimits } from './limits.ts'
import { boxAround, cornersOf } from './place.ts'
import { estimate } from './told.ts'
import { unreadAreas } from './unread.ts'

/** Bar codes and matrix codes of the print: where they are, and what a reader makes of them over foil. */
export function codesCheck(reader: CodeReader): CheckPart {
  const [search, tablesFor] = [keptSearch(reader), keptReaderTables()]
  return {
    name: 'codes',
    says: 'Bar codes and matrix codes: size, light margins, white beneath, and a grade at 660 nm; an estimate that does not replace verification',
    run: (input, task) => run(input, search, tablesFor, task),
  }
}

async function run(
  input: CheckInput,
  search: ReturnType<typeof keptSearch>,
  tablesFor: ReturnType<typeof keptReaderTables>,
  task: Task | undefined,
): Promise<readonly CheckFinding[]> {
  task?.progress?.(0, 'looking for codes')
  const print = await search(input, task)
  const { codes } = print
  const found: CheckFinding[] = [...unreadAreas(input, print)]
  const met = new Map<string, number>()
  for (const [i, code] of codes.entries()) {
    checkCancelled(task)
    task?.progress?.((i + 1) / (codes.length + 1), `reading ${code.kind} ${code.text}`)
    const tables = tablesFor(input.scene, input.map)
    const name = `${code.kind}/${code.text}`
    const times = (met.get(name) ?? 0) + 1
    met.set(name, times)
    const key = times === 1 ? name : `${name}#${times}`
    const part = partOfMap(input.map, boxAround(cornersOf(code.frame)), lookedAround(input, code))
    found.push(
      ...(await kept(
        input,
        `codes, ${key}`,
        [code, tables],
        own => codeFindings({ input: own, tables, limits: limitsOf(own) }, code, key, task),
        part,
      )),
    )
  }
  if (found.length === 0) found.push(nothingFound)
  task?.progress?.(1, 'codes')
  return found
}

const limitsOf =
  ({ limits }: Pick<CheckInput, 'limits'>) =>
  (name: CodeLimitName): AppliedLimit =>
    applied(name, codeLimits[name], limits)

/** How far around a symbol anything of it is looked at, mm: light margins, text, white beneath and gratings beside. */
function lookedAround(input: CheckInput, { frame }: FoundCode): number {
  const limits = limitsOf(input)
  const register = Math.max(
    ...(['register.holography-colour', 'register.colour-white'] as const).map(
      key => registerLimit(key, input.limits).value,
    ),
  )
  const white = register + limits('codes.patch-margin').value + 1
  return marginsAround(frame) + Math.max(limits('codes.flare-beside').value, white)
}

const nothingFound: CheckFinding = {
  check: 'codes',
  key: 'codes/none',
  severity: 'note',
  code: 'no-code-found',
  where: 'print',
  message: `no bar code or matrix code that can be read was found in the print. ${estimate}`,
  fix: 'Nothing, if the carton carries none; else look whether it is switched on and in a printed layer.',
  box: null,
  held: null,
  measured: null,
  limit: null,
  remedy: null,
}
