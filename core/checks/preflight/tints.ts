import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { inksOf } from '../plane-bytes.ts'
import { SpotArea } from '../spot-area.ts'
import { mm2, percent, saidLimit } from '../words.ts'
import { found, limitOf, measured } from './found.ts'

/** Neighbours that differ by no more are one flat tint, 255ths: edges and steep fades are none. */
const flat = 2
/** Tones within a hundredth of none and of solid are those: separations end a little beside them. */
const whole = 3

/** Flat tints so light that they may not hold, or so dark that they may fill in. */
export function tintFindings(input: CheckInput): readonly CheckFinding[] {
  const { map } = input
  const limit = limitOf(input)
  const lightest = limit('preflight.tintLeast')
  const darkest = limit('preflight.tintMost')
  const least = limit('preflight.leastArea').value
  const { width, height } = map
  return inksOf(map).flatMap(({ name, data }) => {
    const light = new SpotArea(map)
    const dark = new SpotArea(map)
    let [palest, deepest] = [255, 0]
    // A tint that rounds to the limit is on it.
    const [from, to] = [Math.floor(2.55 * lightest.value), Math.ceil(2.55 * darkest.value)]
    const near = (j: number, tone: number) => Math.abs(data[j]! - tone) <= flat
    for (let y = 1; y + 1 < height; y++)
      for (let x = 1, i = y * width + 1; x + 1 < width; x++, i++) {
        const tone = data[i]!
        if (tone < whole || tone > 255 - whole || (tone >= from && tone <= to)) continue
        if (!(near(i - 1, tone) && near(i + 1, tone) && near(i - width, tone) && near(i + width, tone)))
          continue
        if (tone < from) {
          light.add(x, y)
          palest = Math.min(palest, tone)
        } else {
          dark.add(x, y)
          deepest = Math.max(deepest, tone)
        }
      }
    const told = (
      area: SpotArea,
      code: string,
      tone: number,
      by: typeof lightest,
      what: string,
      fix: string,
    ) =>
      area.mm2 <= least
        ? []
        : [
            found({
              severity: 'warning',
              code,
              of: name,
              where: `ink ${name}`,
              message: `${mm2(area.mm2)} are a flat tint of ${percent(tone / 255)}, ${what}; the limit is ${saidLimit(by)}`,
              fix,
              box: area.box,
              measured: measured(tone / 2.55, '%', 1),
              limit: by,
            }),
          ]
    return [
      ...told(
        light,
        'tint-too-light',
        palest,
        lightest,
        'which may not hold',
        'Make it darker, or leave it out.',
      ),
      ...told(dark, 'tint-too-dark', deepest, darkest, 'which may fill in', 'Make it lighter, or solid.'),
    ]
  })
}
