import type { CheckFinding, Remedy } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { anyInk, anyWhite, bytesOf } from '../plane-bytes.ts'
import { colourRoles, layersOf } from '../printed.ts'
import { remedies, whiteTarget } from '../remedy.ts'
import { SpotArea } from '../spot-area.ts'
import { mm2 } from '../words.ts'
import { found, limitOf, measured } from './found.ts'

/** Print on foil without any white: either the plate was forgotten, or nothing is on it. */
export function missingWhite(input: CheckInput): readonly CheckFinding[] {
  const { map } = input
  const white = anyWhite(map)
  const least = limitOf(input)('preflight.leastArea')
  if (white?.some(one => one >= 13)) return []
  const ink = anyInk(map)
  const metal = bytesOf(map, 'metal')
  const area = new SpotArea(map)
  for (let y = 0, i = 0; y < map.height; y++)
    for (let x = 0; x < map.width; x++, i++) if (ink[i]! >= 26 && (metal?.[i] ?? 255) >= 128) area.add(x, y)
  if (area.mm2 <= least.value) return []
  const empty = white !== null
  return [
    found({
      severity: empty ? 'error' : 'warning',
      code: empty ? 'white-empty' : 'white-missing',
      where: empty ? map.whites.map(({ name }) => `white "${name}"`).join(', ') : 'white',
      message: `${mm2(area.mm2)} of print lie on foil, and ${empty ? 'nothing is on the white plate' : 'there is no white plate'}: every colour will be metallic and dark from most sides`,
      fix: empty
        ? 'Look at how the amount of the plate is read, or draw white under what must keep its colour.'
        : 'Add a white plate, or have one made from the art; leave it out only where all print is meant to be metallic.',
      box: area.box,
      measured: measured(area.mm2, 'mm²', 0),
      limit: least,
      remedy: empty ? ownShape(input) : underPrint(input),
    }),
  ]
}

/** White under every printed layer; null where print is plates alone, which a white is not made of. */
function underPrint(input: CheckInput): Remedy | null {
  const ids = layersOf(input, colourRoles).map(({ id }) => id)
  return ids.length === 0 ? null : remedies.makeWhite(ids)
}

/** A plate that is drawn light has nothing dark in it, and the other way round: its shape alone counts then. */
function ownShape(input: CheckInput): Remedy | null {
  const [white, ...more] = input.map.whites
  const found = white === undefined || more.length > 0 ? null : whiteTarget(input, white.name)
  return found === null || found.target.kind === 'channel' || found.amount.from === 'alpha'
    ? null
    : remedies.readAmount(found.target, 'white', 'alpha', 'Read its shape, not its colour')
}
