import type { Finding } from '../../base/finding.ts'
import type { PageLayer } from '../ink/page.ts'

/**
 * Objects of no ink that overprint in mode 1, by their layers: they leave every ink below as it is (ISO 32000-2, 8.6.7),
 * where whoever drew them meant bare board, and sees it on a screen that does not overprint.
 * @param counts how many there are, by number of the layer; null: in none
 */
export const vanishedFindings = (
  counts: ReadonlyMap<number | null, number>,
  layers: readonly PageLayer[],
): readonly Finding[] =>
  [...counts].map(([layer, count]) => ({
    severity: 'warning',
    code: 'white-overprints',
    where: layer === null ? 'the page' : `layer "${layers[layer]!.name}"`,
    message: `${count === 1 ? 'an object has' : `${count} objects have`} no ink and ${count === 1 ? 'is' : 'are'} set to overprint: what was meant to be bare vanishes, and what lies below shows`,
    fix: 'Let it knock out what lies below. White ink is a plate of its own.',
  }))
