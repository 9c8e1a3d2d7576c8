import { describe, expect, it } from 'vitest'
import { directionOf } from '../../renderer/panels/effects/direction.ts'
import { addInMiddle, addOutline, drawn } from '../../renderer/state/outlines.ts'
import { firstState, type State } from '../../renderer/state/state.ts'
import { undo } from '../../renderer/state/steps.ts'
import { plainJob } from '../support/job.ts'

const begun: State = { ...firstState, job: plainJob }

describe('areas drawn on the picture', () => {
  it('come with an effect, an open card and one step to take back', () => {
    const state = addOutline({ ...begun, view: { ...begun.view, drawing: 'ellipse' } }, [
      drawn('ellipse', [10, 10], [20, 30]),
    ])
    const [outline] = state.job!.outlines
    expect(outline?.name).toBe('Area 1')
    expect(state.job!.effects.at(-1)?.target).toEqual({ kind: 'outline', id: outline?.id })
    expect(state.view).toMatchObject({ card: { kind: 'outline', id: outline?.id }, drawing: null })
    expect(undo(state).job!.outlines).toEqual([])
  })

  it('have names and ids of their own', () => {
    const two = addInMiddle(addInMiddle(begun, 'rectangle'), 'rectangle')
    expect(two.job!.outlines.map(one => one.name)).toEqual(['Area 1', 'Area 2'])
    expect(new Set(two.job!.outlines.map(one => one.id)).size).toBe(2)
  })
})

describe('the direction of an effect', () => {
  it.each([
    ['plain', {}, 'azimuthDeg', 90],
    ['plain', { azimuthDeg: 30 }, 'azimuthDeg', 30],
    ['wave', {}, 'runDeg', 90],
    ['switch', {}, 'directionDeg', 0],
  ])('of %s %j is its %s', (kind, parameters, key, deg) => {
    expect(directionOf({ kind, parameters })).toMatchObject({ key, deg })
  })

  it.each([
    ['facets', {}],
    ['highlight', { curve: 'circle' }],
    ['aurora', {}],
  ])('%s %j has none', (kind, parameters) => {
    expect(directionOf({ kind, parameters })).toBeNull()
  })
})
