import type { MaterialMap } from '../../material/map.ts'
import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { limitsOf } from '../limit-set.ts'
import { anyInk, anyWhite, bytesOf, inksOf } from '../plane-bytes.ts'
import { SpotArea } from '../spot-area.ts'
import { invertedWhite } from '../white/inverted.ts'
import { whiteLimits } from '../white/limits.ts'
import { mm, mm2, saidLimit } from '../words.ts'
import { found, limitOf, measured } from './found.ts'

/** Tone from which something is there, and below which it is not, 0..255. */
const there = 128
const absent = 26
/** Soft pixels that may lie between two plates that meet. */
const between = 2
/** Half the width of a stroke of 12 pt type that white may be knocked out under, mm. */
const strokeMm = 0.8

/**
 * White and colour that knock each other out: they meet edge to edge, so foil shows between them as soon as the press is
 * a little off; and black that has no white left under it where white lies all round.
 */
export function edgeFindings(input: CheckInput): readonly CheckFinding[] {
  const { map } = input
  const white = anyWhite(map)
  // A white that is its own negative is told as that.
  if (white === null || invertedWhite(input, limitsOf(whiteLimits, input)).length > 0) return []
  const black = blackOf(map)
  return [...butting(input, white, black), ...knockedByBlack(input, white, black)]
}

/** What lies on a pixel: one plate alone, neither, or a soft edge or both of them. */
const soft = 0
const bare = 1
const onlyWhite = 2
const onlyInk = 3

function butting(input: CheckInput, white: Uint8Array, black: Uint8Array): readonly CheckFinding[] {
  const { map } = input
  const limit = limitOf(input)
  const most = limit('preflight.buttLength')
  const trap = limit('preflight.trap')
  const ink = anyInk(map)
  const edge = new SpotArea(map)
  const kinds = new Uint8Array(ink.length).fill(soft)
  for (let i = 0; i < kinds.length; i++)
    if (ink[i]! < absent) {
      if (white[i]! < absent) kinds[i] = bare
      else if (white[i]! >= there) kinds[i] = onlyWhite
    } else if (ink[i]! >= there && white[i]! < absent && black[i] === 0) kinds[i] = onlyInk
  const count = (stepX: number, stepY: number): number => {
    let meets = 0
    const step = stepY * map.width + stepX
    for (let y = 0; y + stepY * (between + 1) < map.height; y++)
      for (let x = 0; x + stepX * (between + 1) < map.width; x++) {
        const i = y * map.width + x
        const first = kinds[i]!
        if (first < onlyWhite || kinds[i + step] === first) continue
        for (let n = 1; n <= between + 1; n++) {
          const next = kinds[i + n * step]!
          // Only soft pixels of both may lie between: bare foil and white under ink are no such edge.
          if (next === soft) continue
          if (next !== bare && next !== first) {
            meets++
            edge.add(x, y)
          }
          break
        }
      }
    return meets
  }
  const rows = count(1, 0) * (map.heightMm / map.height)
  const columns = count(0, 1) * (map.widthMm / map.width)
  // An edge at any angle is crossed |cos| times along rows and |sin| times along columns: this is its length but for that angle, mean 1.
  const length = (Math.PI / 4) * (rows + columns)
  if (length <= most.value) return []
  return [
    found({
      severity: 'warning',
      code: 'plates-butt',
      where: 'white and colour',
      message: `for about ${mm(length)} white ends where colour begins: foil shows between them when the press is a little off`,
      fix: `Let white run on under the colour, ${saidLimit(trap)} or more.`,
      box: edge.box,
      measured: measured(length, 'mm', 1),
      limit: most,
    }),
  ]
}

function knockedByBlack(input: CheckInput, white: Uint8Array, black: Uint8Array): readonly CheckFinding[] {
  const { map } = input
  const least = limitOf(input)('preflight.leastArea')
  const { width, height } = map
  const reach = Math.ceil((strokeMm * width) / map.widthMm)
  const area = new SpotArea(map)
  const meets = (i: number, room: number, step: number): boolean => {
    for (let n = 1; n <= Math.min(reach, room); n++) if (white[i + n * step]! >= there) return true
    return false
  }
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i++) {
      if (black[i] === 0 || white[i]! >= absent) continue
      const across = meets(i, x, -1) && meets(i, width - 1 - x, 1)
      const down = meets(i, y, -width) && meets(i, height - 1 - y, width)
      if (across || down) area.add(x, y)
    }
  if (area.mm2 <= least.value) return []
  return [
    found({
      severity: 'warning',
      code: 'black-knocks-out-white',
      where: 'black on white',
      message: `${mm2(area.mm2)} of thin black have no white under them where white lies all round: foil shows around them when the press is a little off`,
      fix: 'Let black overprint: keep the white whole under it.',
      box: area.box,
      measured: measured(area.mm2, 'mm²', 1),
      limit: least,
    }),
  ]
}

/** 1 where black stands alone and solid. */
function blackOf(map: MaterialMap): Uint8Array {
  const out = new Uint8Array(map.width * map.height)
  const black = bytesOf(map, 'K')
  if (black === null) return out
  const others = inksOf(map).flatMap(({ name, data }) => (name === 'K' ? [] : [data]))
  for (let i = 0; i < out.length; i++)
    if (black[i]! >= 230 && others.every(data => data[i]! < absent)) out[i] = 1
  return out
}
