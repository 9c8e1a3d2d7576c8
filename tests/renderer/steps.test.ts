import { describe, expect, it } from 'vitest'
import { setOverlay, setPanel, setRole, setView } from '../../core/job/edit.ts'
import { firstState, type State } from '../../renderer/state/state.ts'
import { begin, decide, look, redo, settle, undo, unsaved } from '../../renderer/state/steps.ts'
import { plainJob } from '../support/job.ts'

const opened: State = begin(firstState, plainJob, plainJob)
const white = setRole({ kind: 'layer', id: '5' }, 'white', null)
const width = (mm: number) => setPanel({ widthMm: mm })

describe('steps', () => {
  it('a decision can be taken back and made again', () => {
    const decided = decide(opened, white)
    expect(decided.job?.roles).toHaveLength(1)
    expect(undo(decided).job?.roles).toHaveLength(0)
    expect(redo(undo(decided)).job).toEqual(decided.job)
  })

  it('a gesture is one step, however many edits it makes', () => {
    const dragged = [31, 32, 33].reduce((state, mm) => decide(state, width(mm), 'panel'), opened)
    expect(dragged.job?.panel.widthMm).toBe(33)
    expect(undo(dragged).job?.panel).toEqual(plainJob.panel)
  })

  it('the same gesture made twice is two steps', () => {
    const once = settle(decide(opened, width(31), 'panel'))
    expect(undo(decide(once, width(40), 'panel')).job?.panel.widthMm).toBe(31)
  })

  it('a new decision forgets what was taken back', () => {
    const other = decide(undo(decide(opened, white)), width(50))
    expect(redo(other)).toBe(other)
  })

  it('nothing to take back leaves the state as it is', () => {
    expect(undo(opened)).toBe(opened)
    expect(redo(opened)).toBe(opened)
    expect(undo(firstState)).toBe(firstState)
  })

  it('how the panel is held is no decision: no step, nothing to lose, and undo leaves it alone', () => {
    const pose = { tiltForwardDeg: 20, tiltSideDeg: 0, turnDeg: 0 }
    const held = look(opened, { pose })
    expect(unsaved(held)).toBe(false)
    expect(held.session.history.past).toHaveLength(0)
    const back = undo(look(decide(opened, white), { pose }))
    expect(back.job?.view.pose).toEqual(pose)
    expect(back.job?.roles).toHaveLength(0)
  })

  it('a decision is unsaved until it is taken back or kept', () => {
    const decided = decide(opened, white)
    expect(unsaved(decided)).toBe(true)
    expect(unsaved(undo(decided))).toBe(false)
    const kept = { ...decided, session: { ...decided.session, kept: decided.job } }
    expect(unsaved(kept)).toBe(false)
  })

  it('leaves that are lifted, and the screen, are decisions: unsaved, and undone', () => {
    for (const edit of [setOverlay({ lift: 0.4 }), setView({ displayWhite: 'D50' })]) {
      const decided = decide(opened, edit)
      expect(unsaved(decided)).toBe(true)
      const back = undo(decided)
      expect(back.job?.view).toEqual(plainJob.view)
      expect(unsaved(back)).toBe(false)
      expect(redo(back).job?.view).toEqual(decided.job?.view)
    }
  })

  it('leaves that were lifted in the saved job and are laid down again are unsaved', () => {
    const lifted = decide(opened, setOverlay({ lift: 0.4 }))
    const saved = { ...lifted, session: { ...lifted.session, kept: lifted.job } }
    expect(unsaved(saved)).toBe(false)
    expect(unsaved(undo(saved))).toBe(true)
  })

  it('leaves are undone while the panel stays as it is held and shown', () => {
    const looks = { pose: { tiltForwardDeg: 20, tiltSideDeg: 0, turnDeg: 0 }, exposureStops: 1 }
    const back = undo(look(decide(opened, setOverlay({ lift: 0.4 })), looks))
    expect(back.job?.view).toEqual({ ...plainJob.view, ...looks })
    expect(unsaved(back)).toBe(false)
  })

  it('where the art lies is no step: undo after a save keeps the new relative path', () => {
    const decided = decide(opened, white)
    const moved = {
      ...decided,
      job: decided.job && { ...decided.job, art: { path: 'a/b.psd', sha256: 'c' } },
    }
    expect(undo(moved).job?.art?.path).toBe('a/b.psd')
  })
})
