import type { Channel } from '../art/layer.ts'
import type { InkPlate } from './ink-plate.ts'

/** What of a plate says where it lies. */
interface Laid {
  readonly kind: InkPlate['kind']
  /** Its place in the file's own printing order; null where the file states none. */
  readonly laid: Pick<Channel, 'order' | 'process'> | null
}

/**
 * Plates in the order in which they are laid down. What the file's own printing order says goes first: which plates lie
 * under the process inks and which over them, and in which order; the others stay where plates of their kind usually lie.
 * @param plates in the usual order
 */
export function inStatedOrder<P extends Laid>(plates: readonly P[]): readonly P[] {
  return [0, 1, 2].flatMap(side => {
    const here = plates.filter(plate => sideOf(plate) === side)
    const stated = here
      .filter(({ laid }) => laid !== null)
      .toSorted((a, b) => (a.laid?.order ?? 0) - (b.laid?.order ?? 0))
    return here.map(plate => (plate.laid === null ? plate : stated.shift()!))
  })
}

/** 0 under the process inks, 1 one of them, 2 over them. */
function sideOf({ kind, laid }: Laid): 0 | 1 | 2 {
  if (kind === 'process') return 1
  if (laid?.process !== undefined) return laid.process === 'under' ? 0 : 2
  return kind === 'primer' || kind === 'white' ? 0 : 2
}
