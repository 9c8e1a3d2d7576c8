import { BadInput } from '../base/finding.ts'
import type { Blank } from '../carton/blank.ts'
import { cartonBlank } from '../carton/carton.ts'
import type { DieLine } from '../carton/die.ts'
import type { Drawing } from '../carton/read/drawing.ts'
import { readDie } from '../carton/read/read-die.ts'
import { foldedSolid } from '../reference/folded.ts'
import type { Solid } from '../reference/solid.ts'
import { artCorners, type DrawnForm, type JobCarton } from './carton.ts'
import type { Job } from './job.ts'

/** The blank of a job's carton, or what is wrong with its sizes; null where the job has no carton. */
export function blankOf({ carton, board }: Pick<Job, 'carton' | 'board'>): Blank | BadInput | null {
  if (carton === null) return null
  const known = kept.get(carton.form)
  if (known?.caliperMm === board.caliperMm) return known.blank
  const blank = drawn(carton.form, board.caliperMm)
  kept.set(carton.form, { caliperMm: board.caliperMm, blank })
  return blank
}

/** What stands on the table: the folded carton; undefined for the flat panel, and where the carton cannot be made. */
export function solidOf(job: Pick<Job, 'carton' | 'board' | 'panel'>): Solid | undefined {
  const blank = blankOf(job)
  if (job.carton === null || blank === null || blank instanceof BadInput) return undefined
  const { carton, panel } = job
  // A lamp that moves asks at every frame; the carton is the same then.
  const known = folded.get(carton)
  if (known?.blank === blank && known.panel === panel) return known.solid
  const corners = cornersOn(blank, carton.arts, panel)
  const solid = foldedSolid(blank, carton.fold.amount, carton.fold.own, corners, panel)
  folded.set(carton, { blank, panel, solid })
  return solid
}

/** Where the art lies: the same map while a hand only folds. */
function cornersOn(
  blank: Blank,
  arts: JobCarton['arts'],
  panel: Job['panel'],
): ReturnType<typeof artCorners> {
  const known = placedArts.get(arts)
  if (known?.blank === blank && known.panel === panel) return known.corners
  const corners = artCorners(blank, arts, panel)
  placedArts.set(arts, { blank, panel, corners })
  return corners
}

const placedArts = new WeakMap<
  JobCarton['arts'],
  {
    readonly blank: Blank
    readonly panel: Job['panel']
    readonly corners: ReturnType<typeof artCorners>
  }
>()

const folded = new WeakMap<
  JobCarton,
  { readonly blank: Blank; readonly panel: Job['panel']; readonly solid: Solid }
>()

const kept = new WeakMap<
  JobCarton['form'],
  { readonly caliperMm: number; readonly blank: Blank | BadInput }
>()

function drawn(form: JobCarton['form'], caliperMm: number): Blank | BadInput {
  try {
    return form.from === 'drawing' ? drawnBlank(form, caliperMm) : cartonBlank({ ...form, caliperMm })
  } catch (error) {
    if (error instanceof BadInput) return error
    throw error
  }
}

/** Throws BadInput where the lines cannot be folded, with the first reason. */
function drawnBlank({ name, lines, glue }: DrawnForm, caliperMm: number): Blank {
  const { blank, die, findings } = readDie(drawingOf(name, lines), { caliperMm })
  if (blank !== null) return { ...blank, die: { ...die, glue } }
  const first = findings.find(({ severity }) => severity === 'error')
  throw new BadInput(
    first?.code ?? 'die-not-foldable',
    name,
    first?.where ?? 'the die',
    first?.message ?? 'cannot be folded',
    first?.fix ?? 'Read the drawing again.',
  )
}

/** Lines whose kinds are known, as a drawing that says so. */
const drawingOf = (name: string, lines: readonly DieLine[]): Drawing => ({
  name,
  lines: lines.map(({ kind, points }) => ({
    points,
    names: [[kind]],
    color: null,
    dashed: false,
    filled: false,
  })),
  widthMm: 0,
  heightMm: 0,
  scale: { mm: 1, from: 'stated' },
  findings: [],
})
