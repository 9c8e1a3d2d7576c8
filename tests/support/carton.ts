import type { Blank, Panel } from '../../core/carton/blank.ts'
import type { DieLine, Point } from '../../core/carton/die.ts'
import { dieOf } from '../../core/carton/draw.ts'
import { foldedSolid } from '../../core/reference/folded.ts'
import type { Solid } from '../../core/reference/solid.ts'

/** A tray: a front with two sides, a lid with a tongue and a floor. Its art lies over all of it. */
export function tray(caliperMm = 0.6): Blank {
  const box = (name: string, x: number, y: number, w: number, h: number): Panel => ({
    name,
    outline: [
      [x, y],
      [x + w, y],
      [x + w, y + h],
      [x, y + h],
    ],
  })
  const hinge = (parent: string, child: string, from: Point, to: Point) => ({
    name: `${parent} to ${child}`,
    parent,
    child,
    from,
    to,
    closedDeg: 90,
    begins: 0,
    ends: 1,
  })
  return {
    widthMm: 80,
    heightMm: 80,
    caliperMm,
    root: 'front',
    panels: [
      box('front', 20, 20, 40, 35),
      box('left', 0, 20, 20, 35),
      box('right', 60, 20, 20, 35),
      box('lid', 20, 55, 40, 15),
      box('tongue', 22, 70, 36, 10),
      box('floor', 20, 0, 40, 20),
    ],
    hinges: [
      hinge('front', 'left', [20, 20], [20, 55]),
      hinge('front', 'right', [60, 20], [60, 55]),
      hinge('front', 'lid', [20, 55], [60, 55]),
      hinge('lid', 'tongue', [22, 70], [58, 70]),
      hinge('front', 'floor', [20, 20], [60, 20]),
    ],
    die: { lines: [], glue: [], bleed: [] },
  }
}

/** The tray folded so far, with art of 80 × 80 mm over the whole blank but its floor. */
export function trayFolded(amount: number, own: Readonly<Record<string, number>> = {}): Solid {
  return folded(tray(), amount, own)
}

function folded(blank: Blank, amount: number, own: Readonly<Record<string, number>>): Solid {
  const corners = new Map(
    blank.panels.filter(({ name }) => name !== 'floor').map(({ name }) => [name, [0, 0] as Point]),
  )
  return foldedSolid(blank, amount, own, corners, { widthMm: 80, heightMm: 80 })
}

/** The tray with a round window in its front, and a square one in its lid. */
export function trayWithWindows(caliperMm = 0.6): Blank {
  const blank = tray(caliperMm)
  const round = Array.from({ length: 24 }, (_, i): Point => {
    // Clockwise.
    const angle = (-2 * Math.PI * i) / 24
    return [40 + 11 * Math.cos(angle), 38 + 11 * Math.sin(angle)]
  })
  const square: readonly Point[] = [
    [33, 59],
    [33, 66],
    [47, 66],
    [47, 59],
  ]
  const windows: Readonly<Record<string, readonly (readonly Point[])[]>> = { front: [round], lid: [square] }
  return {
    ...blank,
    panels: blank.panels.map(panel => ({ ...panel, windows: windows[panel.name] ?? [] })),
  }
}

/** {@link trayWithWindows} folded as {@link trayFolded} is. */
export const windowsFolded = (amount: number): Solid => folded(trayWithWindows(), amount, {})

/** The tray as a die maker draws it. */
export const trayLines: readonly DieLine[] = (() => {
  const { panels, hinges } = tray()
  return dieOf({ panels, hinges, glue: [], rules: {}, bleedMm: 0 }).lines
})()
