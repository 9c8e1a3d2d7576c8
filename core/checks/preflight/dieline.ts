import { BadInput } from '../../base/finding.ts'
import type { Task } from '../../base/task.ts'
import { drawingOfArt } from '../../carton/read/art-drawing.ts'
import type { DieFinding } from '../../carton/read/drawing.ts'
import { readDie } from '../../carton/read/read-die.ts'
import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { trimLines } from './cut-lines.ts'
import { found } from './found.ts'

const openCodes: readonly string[] = ['panel-open', 'cut-gap']
/** A panel alone that nothing folds is no fault: art may be for one face. */
const flatCode = 'no-creases'

/** Whether the dieline that the art holds closes and can be folded; a job that has none is told so. */
export function dielineFindings(input: CheckInput, task?: Task): readonly CheckFinding[] {
  const { art, blank, scene } = input
  if (blank !== null) return []
  const drawing = drawingOfArt(art)
  if (drawing.lines.length === 0)
    return [
      found({
        severity: 'note',
        code: 'dieline-missing',
        where: 'carton',
        message: trimLines(input)
          ? 'there is no dieline in vectors: creases and glue are not judged, and the trim box of the page counts as the cut'
          : 'there is no dieline in vectors: bleed, creases and glue are not judged, and the edge of the panel counts as the cut',
        fix: 'Choose a carton, or read the dieline of this art.',
      }),
    ]
  return hindering(reading()).map((one, i) =>
    found({
      severity: openCodes.includes(one.code) ? 'error' : one.severity,
      code: openCodes.includes(one.code) ? 'dieline-open' : 'dieline-fault',
      of: `${one.code} ${i + 1}`,
      where: one.at === null ? 'dieline' : `dieline at ${place(one.at)}`,
      message: one.message,
      fix: one.fix,
    }),
  )

  function reading(): readonly DieFinding[] {
    try {
      return readDie(drawing, { caliperMm: scene.board.caliperMm }, task).findings
    } catch (error) {
      if (!(error instanceof BadInput)) throw error
      return [
        {
          severity: 'error',
          code: error.code,
          where: error.where,
          at: null,
          message: error.problem,
          fix: error.fix,
        },
      ]
    }
  }
}

/**
 * What hinders: an outline that is open, or else all other faults. As long as it is open, panels and folds are not found,
 * and what is said of them only follows from it.
 */
function hindering(all: readonly DieFinding[]): readonly DieFinding[] {
  const open = all.filter(({ code }) => openCodes.includes(code))
  return open.length > 0
    ? open
    : all.filter(({ severity, code }) => severity === 'error' && code !== flatCode)
}

const place = ([x, y]: readonly [number, number]): string => `${x.toFixed(1)} / ${y.toFixed(1)} mm`
