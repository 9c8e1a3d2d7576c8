import type { Task } from '../../base/task.ts'
import type { CheckFinding } from '../finding.ts'
import type { CheckInput, CheckPart } from '../input.ts'
import { kept } from '../keeper.ts'
import { limitsOf } from '../limit-set.ts'
import { anyWhite, bytesOf } from '../plane-bytes.ts'
import { BleedReader, tablesOfD50 } from './bleed.ts'
import { bleeding } from './bleeding.ts'
import { whiteOverCreases } from './creases.ts'
import { guardedOf, type MarkedPlace } from './guarded.ts'
import { invertedWhite } from './inverted.ts'
import { lackingWhite } from './lacking.ts'
import { whiteLimits } from './limits.ts'

/** Opaque white: where it lacks, where the metal comes through, where it is upside down, where it may crack. */
export function whiteCheck(marks: readonly MarkedPlace[] = []): CheckPart {
  return {
    name: 'white',
    says: 'White under brand colours and codes, metal that comes through, white over creases.',
    run: (input, task) => whiteFindings(input, marks, task),
  }
}

async function whiteFindings(
  input: CheckInput,
  marks: readonly MarkedPlace[],
  task?: Task,
): Promise<readonly CheckFinding[]> {
  const { map, scene, sets } = input
  const limit = limitsOf(whiteLimits, input)
  const guarded = guardedOf(map, marks)
  const white = anyWhite(map)
  const areas =
    white === null
      ? []
      : [...guarded.map(one => ({ ...one, within: over(one.within, white, 13) })), allWhite(input, white)]
  const d50 =
    white === null
      ? null
      : await kept(input, 'white, tables of D50', [], own => tablesOfD50(own.scene, own.map, own.sets))
  let reader: BleedReader | null = null
  const bleedAt = (x: number, y: number) => {
    reader ??= new BleedReader(scene, map, sets, d50 ?? undefined)
    return reader.at(x, y, task)
  }
  task?.progress?.(0.2, 'White')
  return [
    ...guarded.flatMap(one => lackingWhite(input, one, limit)),
    ...invertedWhite(input, limit),
    ...whiteOverCreases(input, limit),
    ...areas.flatMap((area, i) => {
      task?.progress?.(0.2 + (0.8 * i) / areas.length, 'Metal bleed')
      return bleeding(input, area, bleedAt, limit, task)
    }),
  ]
}

/** Of these pixels, those with white. */
const over = (within: Uint8Array, white: Uint8Array, least: number): Uint8Array =>
  within.map((one, i) => (white[i]! >= least ? one : 0))

/** Every pixel that a full white makes paper of. */
function allWhite({ map, ...input }: CheckInput, white: Uint8Array) {
  const least = 2.55 * limitsOf(whiteLimits, input)('white.fullCoverage').value - 0.5
  const metal = bytesOf(map, 'metal')
  const within = white.map((tone, i) => (tone >= least && (metal?.[i] ?? 255) >= 128 ? 1 : 0))
  return { key: 'all', where: 'everything on full white', within }
}
