import type { Finding } from '../../base/finding.ts'
import { saveAgain } from '../place.ts'
import type { LayerRecord } from './records.ts'

/** What the section block says a record is. */
type Section =
  | { readonly kind: 'layer' }
  | { readonly kind: 'end' }
  | { readonly kind: 'group'; readonly blendKey: string | null }

export interface Placed {
  readonly record: LayerRecord
  readonly group: boolean
  /** Blend key of a group where the section block gives one. */
  readonly blendKey: string
  /** Index of the group's record, or null. */
  readonly parent: number | null
}

/** Records without end markers, bottom to top, each with the group it lies in. */
export function placeInGroups(records: readonly LayerRecord[], findings: Finding[]): Placed[] {
  const placed: Placed[] = []
  const open: number[] = []
  let broken = false
  for (const record of records.toReversed()) {
    const section = sectionOf(record, findings)
    switch (section.kind) {
      case 'end':
        broken ||= open.pop() === undefined
        break
      case 'group':
        placed.push({
          record,
          group: true,
          blendKey: section.blendKey ?? record.blendKey,
          parent: open.at(-1) ?? null,
        })
        open.push(record.index)
        break
      case 'layer':
        placed.push({ record, group: false, blendKey: record.blendKey, parent: open.at(-1) ?? null })
        break
    }
  }
  if (broken || open.length > 0)
    findings.push({
      severity: 'warning',
      code: 'group-markers',
      where: 'layers',
      message: 'begins and ends of groups do not match; some layers may lie in the wrong group',
      fix: saveAgain,
    })
  return placed.reverse()
}

function sectionOf(record: LayerRecord, findings: Finding[]): Section {
  const block = record.block('lsct') ?? record.block('lsdk')
  if (block === null || block.left < 4) return { kind: 'layer' }
  const type = block.u32()
  if (type === 3) return { kind: 'end' }
  if (type === 1 || type === 2) {
    if (block.left < 8) return { kind: 'group', blendKey: null }
    block.skip(4)
    return { kind: 'group', blendKey: block.tag() }
  }
  if (type !== 0)
    findings.push({
      severity: 'warning',
      code: 'group-marker-unknown',
      where: record.place.part ?? '',
      message: `expected a group marker of 0 to 3, got ${type}; taken as a plain layer`,
      fix: saveAgain,
    })
  return { kind: 'layer' }
}
