import { frameCamera, margin, wholeView, type Zoom } from './camera.ts'
import { panelRotation } from './pose.ts'
import type { PanelPose, Scene } from './scene.ts'
import { inObject, type Leaf, onLeaf, type Solid } from './solid.ts'
import { times, toTable } from './vector.ts'

/** How an object is held so that one of its leaves faces the eye, art upright, and the part of the view that it fills. */
export interface StraightOn {
  readonly pose: PanelPose
  readonly zoom: Zoom
}

/** @param aspect width / height of the picture */
export function straightOn(
  solid: Solid,
  leaf: Leaf,
  { eyeDistanceMm }: Pick<Scene['view'], 'eyeDistanceMm'>,
  aspect: number,
): StraightOn {
  const pose = facing(leaf)
  const rotation = panelRotation(pose)
  const across: number[] = []
  const up: number[] = []
  for (const [x, y] of leaf.outline) {
    const [ex, ey, ez] = toTable(rotation, inObject(leaf, x, y, 0))
    across.push(ex / (eyeDistanceMm - ez))
    up.push(ey / (eyeDistanceMm - ez))
  }
  const [left, right] = [Math.min(...across), Math.max(...across)]
  const [bottom, top] = [Math.min(...up), Math.max(...up)]
  const camera = frameCamera(solid, eyeDistanceMm, aspect, wholeView)
  const whole = (camera.top - camera.bottom) / 2
  const half = (Math.max(top - bottom, (right - left) / aspect) * (1 + margin)) / 2
  return {
    pose,
    zoom: { scale: whole / half, x: (left + right) / 2 / whole, y: (bottom + top) / 2 / whole },
  }
}

/** The pose whose rotation undoes the leaf's own: see `panelRotation`. */
function facing({ turn }: Leaf): PanelPose {
  // Table ← object is to be the inverse of object ← leaf.
  const at = (row: 0 | 1 | 2, column: 0 | 1 | 2): number => turn[column][row]
  const degrees = (radians: number): number => {
    const deg = (180 / Math.PI) * radians
    // No pose is told apart by less; whole turns are then whole numbers.
    return Math.round(deg * 1e6) / 1e6 + 0
  }
  const forward = Math.asin(Math.max(-1, Math.min(1, at(1, 2))))
  // Tilted by a quarter, side and turn are one and the same.
  if (Math.abs(at(1, 2)) > 1 - 1e-9)
    return {
      tiltForwardDeg: degrees(forward),
      tiltSideDeg: degrees(Math.atan2(-at(2, 0), at(0, 0))),
      turnDeg: 0,
    }
  return {
    tiltForwardDeg: degrees(forward),
    tiltSideDeg: degrees(Math.atan2(at(0, 2), at(2, 2))),
    turnDeg: degrees(Math.atan2(at(1, 0), at(1, 1))),
  }
}

/** Part of the largest leaf that a leaf is at least, to be a panel of its own in pictures. */
const leastPart = 0.2

/**
 * Leaves that a picture of their own is worth: printed ones of some size whose middle is not covered by another leaf
 * when they face the eye.
 */
export function panelLeaves(solid: Solid): readonly Leaf[] {
  const sizes = new Map(solid.leaves.map(leaf => [leaf, areaOf(leaf)]))
  const most = Math.max(...sizes.values())
  return solid.leaves.filter(
    leaf =>
      (solid.leaves.length === 1 || leaf.caliperMm > 0) &&
      sizes.get(leaf)! >= leastPart * most &&
      !solid.leaves.some(other => other !== leaf && covers(other, leaf)),
  )
}

/** Shoelace formula. */
function areaOf({ outline }: Leaf): number {
  return Math.abs(
    outline.reduce((sum, [x, y], i) => {
      const [nx, ny] = outline[(i + 1) % outline.length]!
      return sum + (x * ny - nx * y) / 2
    }, 0),
  )
}

/** Whether another leaf lies on the print side of this one's middle. */
function covers(other: Leaf, leaf: Leaf): boolean {
  const n = leaf.outline.length
  const middle = leaf.outline.reduce(([sx, sy], [x, y]) => [sx + x / n, sy + y / n] as const, [0, 0] as const)
  const [x, y, z] = inObject(leaf, middle[0], middle[1], 0)
  const inverse = transposed(other)
  const rotation = times(inverse, leaf.turn)
  const direction = [rotation[0][2], rotation[1][2], rotation[2][2]] as const
  const from = toTable(inverse, [x - other.shift[0], y - other.shift[1], z - other.shift[2]])
  if (Math.abs(direction[2]) < 1e-6) return false
  const t = -from[2] / direction[2]
  // Leaves that lie on one another are a caliper apart.
  if (t < 1e-3) return false
  return onLeaf(other, from[0] + t * direction[0], from[1] + t * direction[1])
}

const transposed = ({ turn: [a, b, c] }: Leaf) =>
  [
    [a[0], b[0], c[0]],
    [a[1], b[1], c[1]],
    [a[2], b[2], c[2]],
  ] as const
