import type { Stop } from '../blank.ts'

/** A lid with its tongue, seen from the side: mm. */
export interface Tuck {
  /** From the lid's crease to the tongue's. */
  readonly lid: number
  readonly tongue: number
  readonly caliper: number
  /** Air to the panel that the tongue slides along. */
  readonly ease: number
}

/** Stops a turn of the lid: between them the tongue strays from its way by less than half the ease. */
const count = 48

/**
 * How the tongue turns while its lid closes from `begins` to `ends` of the slider, evenly from 0° to 90°: bent so far
 * that its tip finds the gap, then with the tip down along the inside of the panel. Bent by 90° throughout it would
 * go through that panel, for from the lid's crease its tip is further away than the panel.
 */
export function tuckStops(tuck: Tuck, begins: number, ends: number): readonly Stop[] {
  const entry = entryOf(tuck)
  const at = (left: number): Stop => ({
    amount: begins + (ends - begins) * (1 - left / (Math.PI / 2)),
    deg: (tongueTurn(tuck, left) * 180) / Math.PI,
  })
  const gliding = Array.from({ length: count - 1 }, (_, i) => at((entry * (count - 1 - i)) / count))
  return [{ amount: begins, deg: at(entry).deg }, at(entry), ...gliding]
}

/**
 * Distance from the lid's panel, mm, beyond which no leaf may lie under the level of the lid's crease: there the
 * tongue passes as it slides in.
 */
export function tuckClear(tuck: Tuck): number {
  const { lid, tongue, caliper } = tuck
  let clear = lid
  for (let i = 0; i <= 4 * count; i++) {
    const left = (entryOf(tuck) * i) / (4 * count)
    const lean = tongueTurn(tuck, left) - left - Math.PI / 2
    // The tongue's inner face: from the end of the lid, half a caliper toward the lid's panel, down to its tip.
    const [x, y] = [lid * Math.cos(left), lid * Math.sin(left)]
    for (const along of [tongue, Math.min(tongue, Math.max(0, y / Math.cos(lean)))]) {
      const inner = x - Math.sin(lean) * along - (caliper / 2) * Math.cos(lean)
      if (y - Math.cos(lean) * along < 1e-9) clear = Math.min(clear, inner)
    }
  }
  return clear
}

/** What is left of the lid's turn when the tip comes to the gap, radians. */
const entryOf = ({ lid, tongue }: Tuck): number => 2 * Math.asin(tongue / (2 * lid))

/** Turn of the tongue against its lid when the lid has `left` to go, radians. */
function tongueTurn(tuck: Tuck, left: number): number {
  const { lid, tongue, ease } = tuck
  const turned = Math.min(left, entryOf(tuck))
  // The tip at the panel: the chord of the lid's end, less half the ease for the straight way between stops.
  const outward = Math.max(0, lid * (1 - Math.cos(turned)) - ease / 2)
  return Math.PI / 2 + turned - Math.asin(Math.min(1, outward / tongue))
}
