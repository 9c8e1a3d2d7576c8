import type { Art } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import { knownKind } from '../effects/kinds.ts'
import { validatedPitch } from '../effects/parameters.ts'
import { lostLimit, shareBeyond } from '../optics/beyond.ts'
import { defaultBoard } from '../optics/scene.ts'
import { maxOrder } from '../optics/tables.ts'
import type { AreaNotes, Overlap } from './area-notes.ts'
import { mostGratings } from './areas.ts'
import type { Grid } from './grid.ts'
import type { OpenArea } from './pictures.ts'

const usualWavelength = 550
/** q_l + q_v of light that goes in and out straight. */
const straightOn = 2 * defaultBoard.lacquerIndex
/** Largest difference between the sides' stretching that goes unsaid. */
const stretchLimit = 0.005

export function panelFindings(
  art: Art,
  panel: { readonly widthMm: number; readonly heightMm: number },
): Finding[] {
  const stretch = (panel.widthMm / panel.heightMm / (art.width / art.height) - 1) * 100
  if (Math.abs(stretch) <= stretchLimit * 100) return []
  return [
    {
      severity: 'warning',
      code: 'aspect-differs',
      where: 'panel size',
      message: `${art.width} × ${art.height} pixels of art are stretched over ${panel.widthMm} × ${panel.heightMm} mm: ${Math.abs(stretch).toFixed(1)} % ${stretch > 0 ? 'wider' : 'taller'} than drawn`,
      fix: 'Set the finished size to the art’s own proportions, or hand over art of the right ones.',
    },
  ]
}

export function areaFindings(areas: readonly OpenArea[], notes: AreaNotes, grid: Grid): Finding[] {
  const out: Finding[] = []
  for (const area of areas) {
    const where = `${area.target.kind} "${area.name}"`
    if (!notes.seen(area.id) && knownKind(area.effect))
      out.push({
        severity: 'warning',
        code: 'holography-empty',
        where,
        message: 'it is holography, but no grating comes of it',
        fix: 'Look at how its amount is read, and at its mask and effect.',
      })
    const finest = notes.area(area.id)?.finest
    if (finest !== undefined && finest < validatedPitch)
      out.push({
        severity: 'warning',
        code: 'pitch-not-validated',
        where,
        message: `pitch down to ${Math.round(finest)} nm (${Math.round(1e6 / finest)} lines/mm): below ${validatedPitch} nm the model has not been checked`,
        fix: 'Take its brightness as a rough guide, or choose a wider pitch.',
      })
  }
  for (const area of areas) {
    const note = notes.area(area.id)
    if (note === undefined) continue
    const lost = shareBeyond(area.field.groove, note.depth, note.coarsest, usualWavelength, straightOn)
    if (lost > lostLimit)
      out.push({
        severity: 'note',
        code: 'orders-left-out',
        where: `${area.target.kind} "${area.name}"`,
        message: `${(100 * lost).toFixed(1)} % of its light goes into orders beyond ±${maxOrder}, which pictures leave out`,
        fix: 'Take the numbers of single spots, which hold all orders, or choose a finer pitch or a softer groove.',
      })
  }
  const overlaps = notes.overlaps(areas)
  const squareMm = (grid.widthMm / grid.width) * (grid.heightMm / grid.height)
  if (overlaps.length > 0) out.push(overlapFinding(overlaps, squareMm))
  const { crowded } = notes
  if (crowded > 0)
    out.push({
      severity: 'warning',
      code: 'too-many-gratings',
      where: 'holography',
      message: `more than ${mostGratings} gratings meet on ${crowded} pixels of the map; the smallest parts are left out there`,
      fix: 'Overlap at most four holography layers at one place; a rainbow on two axes counts twice.',
    })
  return out
}

function overlapFinding(overlaps: readonly Overlap[], squareMm: number): Finding {
  const pairs = overlaps.map(
    ({ under, upper, pixels }) =>
      `"${upper.name}" on "${under.name}" (${(pixels * squareMm).toFixed(1)} mm²)`,
  )
  const more = pairs.length > 3 ? ` and ${pairs.length - 3} more pairs` : ''
  return {
    severity: 'note',
    code: 'holography-overlaps',
    where: 'holography',
    message: `areas lie over one another, and each keeps its part of the surface there: ${pairs.slice(0, 3).join(', ')}${more}`,
    fix: 'Cut one out of the other if only one of them should lie there.',
  }
}
