import { expect, test } from 'vitest'
import {
  type ProcessingStep,
  plainGroups,
  plateMakingTypes,
  positionsTypes,
  readStep,
  stepFindings,
  stepWords,
  structuralTypes,
  writtenStep,
} from '../../../core/art/processing-steps.ts'
import { roleOfStep, stepOf, stepSpelled } from '../../../core/roles/steps.ts'

const codes = (group: string | null, type: string | null) =>
  stepFindings(group, type, 'layer').map(({ severity, code }) => `${severity} ${code}`)

// Names and which groups need a type: open object model of the PDF association, GTS_ProcStepsGroup, which cites
// ISO 19593-1, tables 2 and 3. What is an error: the trade workgroup's test files as a public reader has them.
test('a cut line is a step of Structural', () => {
  expect(codes('Structural', 'Cutting')).toEqual([])
  expect(writtenStep({ group: 'Structural', type: 'Cutting' })).toEqual({
    group: 'Structural',
    type: 'Cutting',
  })
})

test('Structural, Positions and PlateMaking need a type', () => {
  for (const group of ['Structural', 'Positions', 'PlateMaking'])
    expect(codes(group, null)).toEqual(['error step-type-missing'])
  expect(() => writtenStep({ group: 'Structural' } as unknown as ProcessingStep)).toThrow(RangeError)
})

test('White and Varnish have none', () => {
  for (const group of plainGroups) {
    expect(codes(group, null)).toEqual([])
    expect(codes(group, 'Cutting')).toEqual(['error step-type-extra'])
  }
  expect(() => writtenStep({ group: 'White', type: 'Opaque' } as unknown as ProcessingStep)).toThrow(
    /no types/,
  )
})

test('a name of one’s own needs a prefix, and is then said', () => {
  expect(codes('HoloMap', null)).toEqual(['error step-unknown'])
  expect(codes('_HoloMap', null)).toEqual(['error step-unknown'])
  expect(codes('RKLT_HoloMap', null)).toEqual(['note step-custom'])
  expect(codes('Structural', 'Scoring')).toEqual(['error step-unknown'])
  expect(codes('Structural', 'ABCD_Scoring')).toEqual(['note step-custom'])
  expect(codes('structural', 'Cutting')).toEqual(['error step-unknown'])
  expect(codes(null, 'Cutting')).toEqual(['error step-group-missing'])
})

test('a type of another group is no type of this one', () => {
  expect(codes('Positions', 'Gluing')).toEqual(['error step-unknown'])
  expect(codes('PlateMaking', 'Cutting')).toEqual([])
})

test('what is in order can be read back, what is not cannot', () => {
  expect(readStep('Positions', 'Hologram')).toEqual({ group: 'Positions', type: 'Hologram' })
  expect(readStep('Varnish', null)).toEqual({ group: 'Varnish' })
  expect(readStep('Varnish', 'Cutting')).toBeNull()
  expect(stepWords({ group: 'Positions', type: 'Hologram' })).toBe('Positions Hologram')
})

test('names of layers that spell a step know the same names', () => {
  const all = [
    ...structuralTypes.map(type => ['Structural', type]),
    ...positionsTypes.map(type => ['Positions', type]),
    ...plateMakingTypes.map(type => ['PlateMaking', type]),
    ...plainGroups.map(group => [group]),
  ]
  for (const names of all) expect(stepOf(names.join('/'))?.name).toBe(names.join('/'))
})

test('a step that a file states has a role; a name of its maker’s own has none but ours', () => {
  const role = (group: string, type: string | null = null) => roleOfStep(readStep(group, type)!)
  expect(role('Structural', 'Cutting')).toBe('dieline')
  expect(role('Structural', 'Gluing')).toBe('glueZone')
  expect(role('Structural', 'ColdFoilStamping')).toBe('foilStamp')
  // A cut line of the plate is not one of the board.
  expect(role('PlateMaking', 'Cutting')).toBe('legend')
  expect(role('Positions', 'Hologram')).toBe('holography')
  expect(role('White')).toBe('white')
  expect(role('RKLT_HoloMap')).toBe('holography')
  expect(role('RKLT_HoloMap', 'RKLT_Comet')).toBe('holography')
  expect(role('ABCD_Window')).toBeNull()
  expect(role('Structural', 'ABCD_Scoring')).toBeNull()
})

test('a name that spells a group without its type is no step to write', () => {
  expect(stepSpelled('structural cutting')).toEqual({ group: 'Structural', type: 'Cutting' })
  expect(stepSpelled('White')).toEqual({ group: 'White' })
  expect(stepSpelled('Structural')).toBeNull()
  expect(stepSpelled('Sky')).toBeNull()
})
