import { moved } from '../art/ink/path.ts'
import type { Art, ArtFile, Layer } from '../art/layer.ts'
import { holoMapGroup, outlineGroup, type ProcessingStep, readStep } from '../art/processing-steps.ts'
import type { Finding } from '../base/finding.ts'
import { type Rings, thinned } from '../base/polygons.ts'
import { checkCancelled, partOf, type Task } from '../base/task.ts'
import { type MarkedArea, markedBox } from '../checks/marked.ts'
import { ContourTracer } from '../checks/register/contours.ts'
import { coverageRows, unionRows } from '../material/coverage.ts'
import { drawnShapes, ringsShape, type Shape } from '../material/drawn-shapes.ts'
import { type Plate, platesOf } from '../material/plates.ts'
import type { MapSettings } from '../material/settings.ts'
import { ancestorsOf } from '../roles/members.ts'
import type { Assigned, RoleName } from '../roles/role.ts'
import { roleOfStep, stepSpelled } from '../roles/steps.ts'
import { PackedPlane } from './packed-plane.ts'
import { roleTable } from './plate-plan.ts'
import { stretch } from './plate-sheet.ts'

/** Outlines of one area, mm from the art's lower left corner as it is printed. */
export interface AreaOutlines {
  readonly step: ProcessingStep
  /** Of what it outlines: a layer, a channel, an area of the job. */
  readonly name: string
  readonly shapes: readonly Shape[]
  /** `drawn`: as the art or the job has them; `traced`: followed along its pixels; `boxed`: the box of live type. */
  readonly from: 'drawn' | 'traced' | 'boxed'
}

/** Where the foil carries one holography: its shapes where they are all of it, else how much of each pixel of the art. */
export interface HoloArea {
  readonly name: string
  readonly step: ProcessingStep
  readonly fill: readonly Shape[] | PackedPlane
}

export interface Areas {
  readonly outlines: readonly AreaOutlines[]
  readonly holography: readonly HoloArea[]
}

/** Roles that have outlines, with the step of a layer whose name spells none. */
const steps: readonly (readonly [role: RoleName, step: ProcessingStep])[] = [
  ['holography', { group: 'Positions', type: 'Hologram' }],
  ['foilStamp', { group: 'Structural', type: 'FoilStamping' }],
  ['emboss', { group: 'Structural', type: 'Embossing' }],
  ['glueZone', { group: 'Structural', type: 'Gluing' }],
  ['codingArea', { group: 'Positions', type: 'CodingMarking' }],
  ['white', { group: outlineGroup, type: 'RKLT_White' }],
]
/** Lines of the board, which a die is made of. */
export const isDieLine = (step: ProcessingStep): boolean =>
  step.group === 'Structural' && roleOfStep(step) === 'dieline'
const typeStep: ProcessingStep = { group: outlineGroup, type: 'RKLT_Type' }
const codeStep: ProcessingStep = { group: 'Positions', type: 'Barcode' }

/** Rows of the art that are read at once, and bytes of decoded planes kept meanwhile. */
const stripRows = 128
const keepBytes = 64 * 2 ** 20
/** How far an outline may lie from the one that was traced, mm, and the least area that is outlined, mm². */
const reach = 0.02
const least = 0.05

/**
 * Outlines of areas of the art: its own shapes where they are all there is, else traced at half coverage on its pixels;
 * outlines of the job are taken as they are. Throws Cancelled when told to.
 */
export async function areaOutlines(
  file: ArtFile,
  options: MapSettings & { readonly assigned: readonly Assigned[] },
  marked: readonly MarkedArea[],
  findings: Finding[],
  task?: Task,
): Promise<Areas> {
  const { art } = file
  const roles = roleTable(options.assigned)
  const onSheet = artOnSheet(art, options.panel)
  const outlines: AreaOutlines[] = []
  const holography: HoloArea[] = []
  const add = (one: AreaOutlines) => {
    if (one.shapes.length > 0) outlines.push(one)
  }
  // What is found of white was said when its plate was made.
  const said: Finding[] = []
  const wanted = steps.flatMap(([role, usual]) =>
    platesOf(art, role, roles, role === 'white' ? said : findings).map(plate => ({
      role,
      plate,
      step: stepNamed(plate, art, role) ?? usual,
    })),
  )
  let small = 0
  for (const [i, { role, plate, step }] of wanted.entries()) {
    const part = partOf(task, i / wanted.length, (i + 1) / wanted.length)
    const { name } = plate
    const drawn = shapesOf(art, plate)?.map(onSheet)
    const mapped = role === 'holography' ? { name, step: { group: holoMapGroup } as const } : null
    if (drawn) {
      add({ step, name, shapes: drawn, from: 'drawn' })
      if (mapped && drawn.length > 0) holography.push({ ...mapped, fill: drawn })
      continue
    }
    const { rings, plane } = await trace(file, plate, options.panel, part)
    if (mapped) holography.push({ ...mapped, fill: plane })
    const large = rings.filter(ring => Math.abs(areaOfRing(ring)) >= least)
    small += rings.length - large.length
    const thin = thinned(large, reach)
    if (thin.length > 0) add({ step, name, shapes: [ringsShape(thin)], from: 'traced' })
  }
  for (const { id, name, rings } of options.outlines ?? []) {
    if (!options.effects.some(({ target }) => target.kind === 'outline' && target.id === id)) continue
    const shapes = [ringsShape(rings)]
    add({ step: { group: 'Positions', type: 'Hologram' }, name, shapes, from: 'drawn' })
    holography.push({ name, step: { group: holoMapGroup }, fill: shapes })
  }
  for (const { layer, step } of dieLayers(art, roles))
    add({ step, name: layer.name, shapes: layer.outlines!.map(onSheet), from: 'drawn' })
  for (const layer of art.layers)
    if (layer.kind === 'text' && isShown(art, layer))
      add({
        step: typeStep,
        name: layer.name,
        shapes: typeShapes(layer).map(onSheet),
        from: layer.outlines === undefined ? 'boxed' : 'drawn',
      })
  for (const area of marked) {
    const step = { text: typeStep, code: codeStep }[area.kind]
    if (step) add({ step, name: area.name, shapes: [markedShape(area)], from: 'drawn' })
  }
  if (small > 0) findings.push(tooSmall(small))
  return { outlines, holography }
}

/** What the art draws as it lies on the panel: it is stretched over it, though not for the rounding of sizes. */
function artOnSheet(art: Art, panel: MapSettings['panel']): (shape: Shape) => Shape {
  const mm = 25.4 / (art.resolutionPpi ?? 300)
  const x = stretch(panel.widthMm, art.width * mm)
  const y = stretch(panel.heightMm, art.height * mm)
  return shape => ({
    ...shape,
    path: moved(shape.path, [x, 0, 0, y, 0, 0]),
    penMm: shape.penMm === null ? null : shape.penMm * Math.sqrt(x * y),
  })
}

/** Shapes of a plate, where all of it is drawn. */
function shapesOf(art: Art, { sources }: Plate): readonly Shape[] | null {
  const all = sources.map(source => drawnShapes(art, source))
  return all.includes(null) ? null : all.flatMap(shapes => shapes ?? [])
}

/** Layers that draw one kind of the die's lines, and state it or are called by it. */
function dieLayers(art: Art, roles: ReturnType<typeof roleTable>) {
  return art.layers.flatMap(layer => {
    if (layer.outlines === undefined || roles.get(`layer ${layer.id}`)?.role !== 'dieline') return []
    const stated = layer.step ? readStep(layer.step.group, layer.step.type) : null
    const step = stated ?? stepSpelled(layer.name)
    return step !== null && isDieLine(step) && isShown(art, layer) ? [{ layer, step }] : []
  })
}

const isShown = (art: Art, layer: Layer): boolean =>
  layer.visible && ancestorsOf(art, layer).every(group => group.visible)

/** Type by its glyphs where they are kept, else by the box that it is set in. */
function typeShapes({ outlines, text }: Layer): readonly Shape[] {
  if (outlines !== undefined) return outlines
  if (!text?.boxMm) return []
  const [left, bottom, right, top] = text.boxMm
  return [ringsShape([boxRing(left, bottom, right, top)])]
}

function markedShape(area: MarkedArea): Shape {
  if (area.shape.kind === 'outline') return ringsShape(area.shape.rings)
  const { leftMm, bottomMm, rightMm, topMm } = markedBox(area)!
  return ringsShape([boxRing(leftMm, bottomMm, rightMm, topMm)])
}

const boxRing = (left: number, bottom: number, right: number, top: number): Rings[number] => [
  [left, bottom],
  [right, bottom],
  [right, top],
  [left, top],
]

/** The step that the name of a plate or of one of its layers spells, where it has this role. */
function stepNamed(plate: Plate, art: Art, role: RoleName): ProcessingStep | null {
  if (role === 'white') return null
  const layer =
    plate.target.kind === 'layer' ? art.layers.find(({ id }) => id === plate.target.id) : undefined
  const spelled = stepSpelled(layer?.name ?? plate.name)
  return spelled !== null && roleOfStep(spelled) === role ? spelled : null
}

async function trace(
  file: ArtFile,
  plate: Plate,
  panel: MapSettings['panel'],
  task: Task,
): Promise<{ readonly rings: Rings; readonly plane: PackedPlane }> {
  const { width, height } = file.art
  const { widthMm, heightMm } = panel
  const strips = { rows: stripRows, keep: keepBytes, task: task.signal ? { signal: task.signal } : undefined }
  const sources = plate.sources.map(source => coverageRows(file, source, strips, 'amount'))
  const tracer = new ContourTracer(width, [widthMm / width, heightMm / height], heightMm)
  const plane = new PackedPlane(width, height)
  for (let top = 0; top < height; top += stripRows) {
    checkCancelled(task)
    task.progress?.(top / height, 'Outlining areas')
    const bottom = Math.min(height, top + stripRows)
    const { data } = await unionRows(sources, width, top, bottom)
    plane.push(Uint8Array.from(data, part => Math.round(255 * Math.min(1, Math.max(0, part)))))
    for (let y = 0; y < bottom - top; y++) tracer.push(data.subarray(y * width, (y + 1) * width))
  }
  return { rings: tracer.finish(), plane }
}

function areaOfRing(ring: Rings[number]): number {
  let sum = 0
  for (let i = 0; i < ring.length; i++) {
    const [a, b] = [ring[i]!, ring[(i + 1) % ring.length]!]
    sum += a[0] * b[1] - b[0] * a[1]
  }
  return sum / 2
}

const tooSmall = (count: number): Finding => ({
  severity: 'note',
  code: 'outlines-small',
  where: 'outlines of areas',
  message: `${count} pieces of less than ${least} mm² have no outline`,
  fix: 'Nothing: outlines only say where an area is.',
})
