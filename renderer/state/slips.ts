import type { Motions } from '../../core/checks/register/groups.ts'
import type { Halo } from '../../core/checks/register/halo.ts'
import type { SlipPair, SlipPicture } from '../../core/checks/register/slip-picture.ts'
import { type Strips, stripsOf } from '../../core/checks/register/strips.ts'

/** What shows of one kind where a pair lies as it does now. */
export interface ShownStrips {
  /** Names the pair and what shows, such as `colour white foil`. */
  readonly name: string
  readonly pair: SlipPair['pair']
  readonly strips: Strips
}

const kinds = ['foil', 'white'] as const satisfies readonly Halo[]

let last: { readonly of: readonly unknown[]; readonly shown: readonly ShownStrips[] } | null = null

/** Everything that shows; asked again for the same, it is the same list. */
export function shownStrips(
  picture: SlipPicture,
  motions: Motions,
  panel: { readonly widthMm: number; readonly heightMm: number },
): readonly ShownStrips[] {
  const { widthMm, heightMm } = panel
  const of = [picture, motions, widthMm, heightMm]
  if (last !== null && of.every((one, i) => one === last?.of[i])) return last.shown
  const shown = picture.pairs.flatMap(({ pair, edges }) => {
    const found = stripsOf(edges, pair, motions, [widthMm / 2, heightMm / 2])
    return kinds.flatMap(halo =>
      found[halo].count === 0 ? [] : [{ name: `${pair.join(' ')} ${halo}`, pair, strips: found[halo] }],
    )
  })
  last = { of, shown }
  return shown
}

/** The pair whose worst slip shows most, first. */
export const worstFirst = ({ pairs }: SlipPicture): readonly SlipPair[] =>
  pairs
    .filter(one => one.worst !== null)
    .toSorted((a, b) => (b.worst?.areaMm2 ?? 0) - (a.worst?.areaMm2 ?? 0))
