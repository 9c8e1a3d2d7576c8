import { either, type Rings, shared, without } from '../../base/polygons.ts'
import type { Blank, Panel } from '../../carton/blank.ts'
import type { Point } from '../../carton/die.ts'
import { fold, type Placing, placed } from '../../carton/fold.ts'

/** Cosine between leaves that lie on each other: 15° apart at most, as a tongue that is pushed in. */
const together = Math.cos(Math.PI / 12)

/**
 * What of each panel's print side another leaf covers when the carton is closed, mm on the blank: leaves that lie
 * nearly level with it, in front of its print.
 * @param gapMm how far in front they may be
 */
export function coveredOf(blank: Blank, gapMm: number): ReadonlyMap<string, Rings> {
  const placings = fold(blank, 1)
  return new Map(
    blank.panels.map(panel => {
      const own = placings.get(panel.name)!
      let covered: Rings = []
      for (const other of blank.panels) {
        if (other === panel) continue
        const cast = castOn(own, placings.get(other.name)!, other, blank.caliperMm, gapMm)
        if (cast !== null) covered = covered.length === 0 ? cast : either(covered, cast)
      }
      return [panel.name, covered.length === 0 ? covered : shared(boardOf(panel), covered)]
    }),
  )
}

/** A panel without its windows, mm on the blank. */
export const boardOf = ({ outline, windows = [] }: Panel): Rings =>
  windows.length === 0 ? [outline] : without([outline], windows)

/** The other leaf as it lies over a print side, on that side's own plane; null where it does not. */
function castOn(own: Placing, other: Placing, panel: Panel, caliperMm: number, gapMm: number): Rings | null {
  const normal = (i: 2 | 5 | 8) => own.turn[i]! * other.turn[i]!
  if (Math.abs(normal(2) + normal(5) + normal(8)) < together) return null
  let sum = 0
  let count = 0
  const cast = boardOf(panel).map(ring =>
    ring.map(([x, y]): Point => {
      const [px, py, pz] = seenFrom(own, placed(other, x, y, -caliperMm / 2))
      sum += pz
      count++
      return [px, py]
    }),
  )
  const height = sum / Math.max(1, count)
  return height > 0 && height - caliperMm / 2 < gapMm ? cast : null
}

/** A place of the solid in the frame of a leaf. */
function seenFrom(
  { turn, shift }: Placing,
  place: readonly [number, number, number],
): readonly [number, number, number] {
  const [x, y, z] = [place[0] - shift[0], place[1] - shift[1], place[2] - shift[2]]
  const along = (i: 0 | 1 | 2) => turn[i]! * x + turn[3 + i]! * y + turn[6 + i]! * z
  return [along(0), along(1), along(2)]
}
