import type { CheckFinding, Remedy } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import type { AppliedLimit } from '../limits.ts'
import { anyInk, bytesOf } from '../plane-bytes.ts'
import { remedies, whiteTarget } from '../remedy.ts'
import { SpotArea } from '../spot-area.ts'
import { percent } from '../words.ts'
import type { WhiteLimit } from './limits.ts'

/** Tone from which ink or white is there, and below which it is not, 0..255. */
const there = 128
const absent = 26

/**
 * A white plate that is its own negative: it lies where nothing is printed and is knocked out where ink lies. Whites that
 * are wide both under ink and beside it, or nowhere, are not.
 */
export function invertedWhite(
  input: Pick<CheckInput, 'map' | 'art' | 'assigned'>,
  limit: (key: WhiteLimit) => AppliedLimit,
): readonly CheckFinding[] {
  const { map } = input
  const share = limit('white.invertedShare')
  const least = limit('white.leastArea').value
  const ink = anyInk(map)
  return map.whites.flatMap(({ name, coverage }): readonly CheckFinding[] => {
    const white = bytesOf(map, coverage)
    if (white === null) return []
    const inked = new SpotArea(map)
    let [open, missing, filled] = [0, 0, 0]
    for (let y = 0, i = 0; y < map.height; y++)
      for (let x = 0; x < map.width; x++, i++)
        if (ink[i]! >= there) {
          inked.add(x, y)
          if (white[i]! < absent) missing++
        } else if (ink[i]! < absent) {
          open++
          if (white[i]! >= there) filled++
        }
    const pixelMm2 = (map.widthMm * map.heightMm) / (map.width * map.height)
    if (inked.pixels === 0 || open * pixelMm2 <= least || inked.mm2 <= least) return []
    const shares = [missing / inked.pixels, filled / open] as const
    if (100 * Math.min(...shares) < share.value) return []
    return [
      {
        check: 'white',
        key: `white/inverted ${name}`,
        severity: 'error',
        code: 'white-inverted',
        where: `white "${name}"`,
        message: `it is knocked out under ${percent(shares[0])} of the ink and lies on ${percent(shares[1])} of what has no ink: it looks like its own negative`,
        fix: 'Turn the plate round, or choose the other reading of its amount.',
        box: inked.box,
        held: null,
        measured: { value: Number((100 * Math.min(...shares)).toFixed(1)), unit: '%' },
        limit: share,
        remedy: otherReading(input, name),
      },
    ]
  })
}

/** Light is read where dark was; a channel has one reading only. */
function otherReading(input: Pick<CheckInput, 'art' | 'assigned'>, name: string): Remedy | null {
  const found = whiteTarget(input, name)
  const from = found?.amount.from
  if (found == null || (from !== 'darkness' && from !== 'lightness')) return null
  return from === 'darkness'
    ? remedies.readAmount(found.target, 'white', 'lightness', 'Read what is light as white')
    : remedies.readAmount(found.target, 'white', 'darkness', 'Read what is dark as white')
}
