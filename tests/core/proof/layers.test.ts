import { expect, test } from 'vitest'
import { readArt } from '../../../core/art/read.ts'
import { memorySource } from '../../../core/base/source.ts'
import { changedLayers, rolesTouched, type SignedLayer, signedLayers } from '../../../core/proof/layers.ts'
import { assignRoles } from '../../../core/roles/assign.ts'
import { lensArt } from '../../support/lens-art.ts'

async function partsOf(...lens: Parameters<typeof lensArt>): Promise<readonly SignedLayer[]> {
  const file = await readArt(memorySource('lens.psd', lensArt(...lens)))
  return signedLayers(file, assignRoles(file.art, { aliases: [], choices: [] }))
}
const still = { holography: 0, ink: 0, white: 0 }
const parts = await partsOf()

test('the art’s parts have their roles, and the same art has the same hashes', async () => {
  expect(parts.map(({ kind, name, role }) => [kind, name, role])).toEqual([
    ['document', 'lens.psd', null],
    ['layer', 'Holo lens rings', 'holography'],
    ['layer', 'Ink', 'overprint'],
    ['channel', 'White', 'white'],
  ])
  expect(await partsOf()).toEqual(parts)
  expect(changedLayers(parts, parts)).toEqual([])
  expect(rolesTouched(parts, parts)).toEqual([])
})

test.each([
  [{ ...still, ink: 1 }, ['overprint']],
  [{ ...still, white: 1 }, ['white']],
  [{ ...still, holography: 1 }, ['holography']],
  [{ holography: 1, ink: 0, white: 1 }, ['holography', 'white']],
] as const)('a plate that was moved is the one that changed: %#', async (plates, roles) => {
  expect(rolesTouched(parts, await partsOf('Ink', plates))).toEqual(roles)
})

test('a layer that came in, is gone or lies elsewhere in the pile counts as what it is', () => {
  const without = parts.filter(one => one.role !== 'overprint')
  expect(rolesTouched(parts, without)).toEqual(['overprint'])
  expect(rolesTouched(without, parts)).toEqual(['overprint'])
  const [document, holo, ink, white] = parts as [SignedLayer, SignedLayer, SignedLayer, SignedLayer]
  expect(rolesTouched(parts, [document, ink, holo, white])).toEqual(['holography', 'overprint'])
})

test('where a part belongs to several, or none are known, nothing is said', () => {
  const [document, ...rest] = parts
  expect(rolesTouched(parts, [{ ...document!, sha256: 'ab'.repeat(32) }, ...rest])).toBeNull()
  expect(rolesTouched([], parts)).toBeNull()
  expect(rolesTouched(parts, [])).toBeNull()
})
