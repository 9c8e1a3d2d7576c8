import { BadInput } from '../base/finding.ts'
import type { Outline } from '../optics/area.ts'
import { lampOutline } from '../reference/light.ts'
import { stand, toPanel, type Vec3 } from '../reference/pose.ts'
import type { Lamp } from '../reference/scene.ts'
import type { Job, PanelPose } from './job.ts'

/**
 * Throws BadInput when the lamp reaches into the panel: no light could be computed there. A disc is taken as the ball
 * around it. A lamp behind a panel that is turned away is fine; the print side is then lit by the others and the room.
 * @param name  file the numbers come from
 * @param where place in it
 */
export function checkStanding(
  lamp: Pick<Lamp, 'pose' | 'form'>,
  pose: PanelPose,
  panel: Pick<Job['panel'], 'widthMm' | 'heightMm'>,
  name: string,
  where: string,
): void {
  const { pose: place, form } = lamp
  if (!(form.kind === 'disc' ? ballReaches(lamp, pose, panel) : rectangleReaches(lamp, pose, panel))) return
  const size = form.kind === 'disc' ? `${place.diameterMm} mm wide` : `${form.widthMm} × ${form.heightMm} mm`
  throw new BadInput(
    'lamp-inside-panel',
    name,
    where,
    `the lamp (${size}, ${place.distanceMm} mm from the middle) reaches into the panel`,
    'Move it away, raise it, or make it smaller',
  )
}

type PanelSize = Pick<Job['panel'], 'widthMm' | 'heightMm'>

function ballReaches({ pose: place }: Pick<Lamp, 'pose'>, pose: PanelPose, panel: PanelSize): boolean {
  const [x, y, z] = stand(place, pose, 1).lamp
  const beyondX = Math.max(0, Math.abs(x) - panel.widthMm / 2)
  const beyondY = Math.max(0, Math.abs(y) - panel.heightMm / 2)
  return Math.hypot(beyondX, beyondY, z) <= place.diameterMm / 2
}

/** Two rectangles meet where a side of one goes through the other. */
function rectangleReaches(lamp: Pick<Lamp, 'pose' | 'form'>, pose: PanelPose, panel: PanelSize): boolean {
  const { rotation } = stand(lamp.pose, pose, 1)
  const { middle, across, up } = lampOutline(lamp)
  const outline: Outline = {
    round: false,
    middle: toPanel(rotation, middle),
    across: toPanel(rotation, across),
    up: toPanel(rotation, up),
  }
  const board: Outline = {
    round: false,
    middle: [0, 0, 0],
    across: [panel.widthMm / 2, 0, 0],
    up: [0, panel.heightMm / 2, 0],
  }
  return goesThrough(outline, board) || goesThrough(board, outline)
}

/** Whether a side of `a` goes through `b`. */
function goesThrough(a: Outline, b: Outline): boolean {
  const corners = [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ].map(([s, t]) => minus(plus(a.middle, a.across, s!, a.up, t!), b.middle))
  const normal = cross(b.across, b.up)
  return corners.some((p, i) => {
    const q = corners[(i + 1) % 4]!
    const [from, to] = [dot(p, normal), dot(q, normal)]
    if (from * to > 0 || from === to) return false
    const part = from / (from - to)
    const at: Vec3 = [p[0] + part * (q[0] - p[0]), p[1] + part * (q[1] - p[1]), p[2] + part * (q[2] - p[2])]
    return (
      Math.abs(dot(at, b.across)) <= dot(b.across, b.across) && Math.abs(dot(at, b.up)) <= dot(b.up, b.up)
    )
  })
}

const dot = (a: Vec3, b: Vec3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const minus = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]
const plus = (m: Vec3, a: Vec3, s: number, b: Vec3, t: number): Vec3 => [
  m[0] + s * a[0] + t * b[0],
  m[1] + s * a[1] + t * b[1],
  m[2] + s * a[2] + t * b[2],
]
