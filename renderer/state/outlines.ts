import { BadInput } from '../../core/base/finding.ts'
import { ellipse, rectangle } from '../../core/effects/draw.ts'
import { boundsOf, type Outline, type PointMm } from '../../core/effects/outline.ts'
import { freshOutline, putOutline, setEffect } from '../../core/job/edit.ts'
import type { Desk } from './open.ts'
import { type DrawTool, inSession, inView, type State } from './state.ts'
import { decide } from './steps.ts'
import { report } from './work.ts'

/** Effect of a fresh area. */
export const firstEffect = { kind: 'plain', parameters: {} } as const

/** Adds an area with an effect and opens its card. */
export function addOutline(state: State, rings: Outline['rings'], name?: string): State {
  if (state.job === null) return state
  const fresh = freshOutline(state.job)
  const outline: Outline = { ...fresh, ...(name === undefined ? {} : { name }), rings }
  const target = { kind: 'outline', id: outline.id } as const
  const added = decide(state, job => setEffect(target, firstEffect)(putOutline(outline)(job)))
  return inView(added, { card: target, drawing: null })
}

/** The ring that a drag from one corner to another draws. */
export const drawn = (tool: Exclude<DrawTool, 'polygon'>, from: PointMm, to: PointMm): readonly PointMm[] =>
  tool === 'rectangle' ? rectangle(from, to) : ellipse(from, to)

/** An area in the middle of the panel, a third of it wide: for who does not draw by hand. */
export function addInMiddle(state: State, tool: Exclude<DrawTool, 'polygon'>): State {
  if (state.job === null) return state
  const { widthMm, heightMm } = state.job.panel
  return addOutline(state, [
    drawn(tool, [widthMm / 3, heightMm / 3], [(2 * widthMm) / 3, (2 * heightMm) / 3]),
  ])
}

/** Lets the user choose an SVG drawing; its closed lines become one area, where the drawing has them. */
export async function importOutline({ store }: Desk): Promise<void> {
  const file = await pickSvg()
  if (file === null) return
  try {
    // The reader is only fetched when it is wanted.
    const { readSvg } = await import('../../core/carton/read/svg.ts')
    const { lines, findings } = readSvg(new Uint8Array(await file.arrayBuffer()), file.name)
    const rings = lines.map(line => ringOf(line.points)).filter(ring => ring.length >= 3)
    if (rings.length === 0 || boundsOf({ rings }) === null)
      throw new BadInput(
        'no-outline',
        file.name,
        'the drawing',
        'has no closed line',
        findings[0]?.fix ?? 'Choose a drawing with a closed shape',
      )
    store.set(state => {
      const added = addOutline(state, rings, file.name.replace(/\.svg$/i, ''))
      const text = `${rings.length === 1 ? 'One shape' : `${rings.length} shapes`} of ${file.name} became an area; the drawing’s lower left corner lies on the panel’s.`
      return inSession(added, { message: { tone: 'note', text } })
    })
  } catch (error) {
    report(store, error)
  }
}

/** Without the last point, where it closes the line; an open line is closed by its ends. */
function ringOf(points: readonly (readonly [number, number])[]): readonly PointMm[] {
  const [first, last] = [points[0], points.at(-1)]
  const closed = first && last && Math.hypot(first[0] - last[0], first[1] - last[1]) < 1e-6
  return closed ? points.slice(0, -1) : points
}

function pickSvg(): Promise<File | null> {
  return new Promise(resolve => {
    const input = document.createElement('input')
    input.type = 'file'
    input.accept = '.svg'
    input.addEventListener('change', () => resolve(input.files?.[0] ?? null))
    input.addEventListener('cancel', () => resolve(null))
    input.click()
  })
}
