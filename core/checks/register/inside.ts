import type { Rings } from '../../base/polygons.ts'

/** Tells many places whether they lie in rings, even-odd: sides are kept by bands of height. */
export function insideOf(rings: Rings): (x: number, y: number) => boolean {
  const bands = new Map<number, number[]>()
  for (const ring of rings)
    ring.forEach(([bx, by], i) => {
      const [ax, ay] = ring[(i + ring.length - 1) % ring.length]!
      const last = Math.floor(Math.max(ay, by) / bandMm)
      for (let band = Math.floor(Math.min(ay, by) / bandMm); band <= last; band++) {
        const sides = bands.get(band)
        if (sides) sides.push(ax, ay, bx, by)
        else bands.set(band, [ax, ay, bx, by])
      }
    })
  return (x, y) => {
    const sides = bands.get(Math.floor(y / bandMm)) ?? []
    let odd = false
    for (let i = 0; i < sides.length; i += 4) {
      const [ax, ay, bx, by] = [sides[i]!, sides[i + 1]!, sides[i + 2]!, sides[i + 3]!]
      if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) odd = !odd
    }
    return odd
  }
}

const bandMm = 0.5
