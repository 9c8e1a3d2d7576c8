import type { Art, ArtFile } from '../art/layer.ts'
import { type ProcessingStep, stepWords } from '../art/processing-steps.ts'
import type { Finding } from '../base/finding.ts'
import { type Rings, thinned } from '../base/polygons.ts'
import { checkCancelled, partOf, type Task } from '../base/task.ts'
import { ContourTracer } from '../checks/register/contours.ts'
import { coverageRows, unionRows } from '../material/coverage.ts'
import { type Plate, platesOf } from '../material/plates.ts'
import type { MapSettings } from '../material/settings.ts'
import type { Assigned, RoleName } from '../roles/role.ts'
import { roleOfStep, stepSpelled } from '../roles/steps.ts'
import { roleTable } from './plate-plan.ts'

/** Areas that something else than printing is done to, or that another fills: closed rings on the art, mm, even-odd. */
export interface AreaOutlines {
  readonly step: ProcessingStep
  readonly rings: Rings
}

/** Roles that are areas rather than inks, with the step of a layer whose name spells none. */
const steps: readonly (readonly [role: RoleName, step: ProcessingStep])[] = [
  ['holography', { group: 'Positions', type: 'Hologram' }],
  ['foilStamp', { group: 'Structural', type: 'FoilStamping' }],
  ['emboss', { group: 'Structural', type: 'Embossing' }],
  ['glueZone', { group: 'Structural', type: 'Gluing' }],
  ['codingArea', { group: 'Positions', type: 'CodingMarking' }],
]

/** Rows of the art that are read at once, and bytes of decoded planes kept meanwhile. */
const stripRows = 128
const keepBytes = 64 * 2 ** 20
/** How far an outline may lie from the one that was traced, mm, and the least area that is outlined, mm². */
const reach = 0.02
const least = 0.05

/**
 * Outlines of areas of the art, traced at half coverage on its own pixels; outlines of the job are taken as they are.
 * One list a step. Throws Cancelled when told to.
 */
export async function areaOutlines(
  file: ArtFile,
  options: MapSettings & { readonly assigned: readonly Assigned[] },
  findings: Finding[],
  task?: Task,
): Promise<readonly AreaOutlines[]> {
  const { art } = file
  const roles = roleTable(options.assigned)
  const wanted = steps.flatMap(([role, usual]) =>
    platesOf(art, role, roles, findings).map(plate => ({
      plate,
      step: stepNamed(plate, art, role) ?? usual,
    })),
  )
  const found = new Map<string, AreaOutlines>()
  const add = (step: ProcessingStep, rings: Rings) => {
    if (rings.length === 0) return
    const key = stepWords(step)
    found.set(key, { step, rings: [...(found.get(key)?.rings ?? []), ...rings] })
  }
  let small = 0
  for (const [i, { plate, step }] of wanted.entries()) {
    const part = partOf(task, i / wanted.length, (i + 1) / wanted.length)
    const traced = await trace(file, plate, options.panel, part)
    const large = traced.filter(ring => Math.abs(areaOfRing(ring)) >= least)
    small += traced.length - large.length
    add(step, thinned(large, reach))
  }
  const drawn = new Set(
    options.effects.flatMap(({ target }) => (target.kind === 'outline' ? [target.id] : [])),
  )
  for (const { id, rings } of options.outlines ?? [])
    if (drawn.has(id)) add({ group: 'Positions', type: 'Hologram' }, rings)
  if (small > 0)
    findings.push({
      severity: 'note',
      code: 'outlines-small',
      where: 'outlines of areas',
      message: `${small} pieces of less than ${least} mm² have no outline`,
      fix: 'Nothing: outlines only say where an area is.',
    })
  return [...found.values()]
}

/** The step that the name of a plate or of one of its layers spells, where it has this role. */
function stepNamed(plate: Plate, art: Art, role: RoleName): ProcessingStep | null {
  const layer =
    plate.target.kind === 'layer' ? art.layers.find(({ id }) => id === plate.target.id) : undefined
  const spelled = stepSpelled(layer?.name ?? plate.name)
  return spelled !== null && roleOfStep(spelled) === role ? spelled : null
}

async function trace(file: ArtFile, plate: Plate, panel: MapSettings['panel'], task: Task): Promise<Rings> {
  const { width, height } = file.art
  const { widthMm, heightMm } = panel
  const strips = { rows: stripRows, keep: keepBytes, task: task.signal ? { signal: task.signal } : undefined }
  const sources = plate.sources.map(source => coverageRows(file, source, strips, 'amount'))
  const tracer = new ContourTracer(width, [widthMm / width, heightMm / height], heightMm)
  for (let top = 0; top < height; top += stripRows) {
    checkCancelled(task)
    task.progress?.(top / height, 'Outlining areas')
    const bottom = Math.min(height, top + stripRows)
    const { data } = await unionRows(sources, width, top, bottom)
    for (let y = 0; y < bottom - top; y++) tracer.push(data.subarray(y * width, (y + 1) * width))
  }
  return tracer.finish()
}

function areaOfRing(ring: Rings[number]): number {
  let sum = 0
  for (let i = 0; i < ring.length; i++) {
    const [a, b] = [ring[i]!, ring[(i + 1) % ring.length]!]
    sum += a[0] * b[1] - b[0] * a[1]
  }
  return sum / 2
}
