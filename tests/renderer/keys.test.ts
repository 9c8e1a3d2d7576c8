import { describe, expect, it } from 'vitest'
import { everywhereAction, type KeyAction, tableAction } from '../../renderer/keys.ts'
import { pressed } from '../../renderer/state/actions.ts'
import { firstState, inView, type State } from '../../renderer/state/state.ts'
import { begin } from '../../renderer/state/steps.ts'
import { plainJob } from '../support/job.ts'

const key = (
  name: string,
  held: Partial<Record<'shiftKey' | 'ctrlKey' | 'metaKey' | 'altKey', true>> = {},
) => ({
  key: name,
  shiftKey: false,
  ctrlKey: false,
  metaKey: false,
  altKey: false,
  ...held,
})
const opened: State = begin(firstState, plainJob, plainJob)
const press = (state: State, ...keys: ReturnType<typeof key>[]): State =>
  keys.reduce((now, one) => pressed(now, (everywhereAction(one) ?? tableAction(one)) as KeyAction), state)

describe('keys', () => {
  it('P opens the sheet of proofs and closes it; without a job there is none', () => {
    expect(press(opened, key('p')).view.sheet).toBe('proofs')
    expect(press(opened, key('p'), key('P')).view.sheet).toBeNull()
    expect(press(firstState, key('p')).view.sheet).toBeNull()
  })

  it('arrows tilt the panel the way they point: up is top away, right is right side away', () => {
    const { pose } = press(opened, key('ArrowUp'), key('ArrowRight'), key('ArrowRight')).job?.view ?? {}
    expect(pose).toEqual({ tiltForwardDeg: 2, tiltSideDeg: 4, turnDeg: 0 })
  })

  it('arrows with Shift walk and lift the lamp, as one step until the hand rests', () => {
    const moved = press(opened, key('ArrowUp', { shiftKey: true }), key('ArrowRight', { shiftKey: true }))
    expect(moved.job?.light.lamps[0].pose).toMatchObject({ azimuthDeg: 87, elevationDeg: 63 })
    expect(press(moved, key('z', { ctrlKey: true })).job?.light.lamps[0].pose).toEqual(
      plainJob.light.lamps[0].pose,
    )
  })

  it('arrows with Ctrl move the view over a panel that is looked at closely', () => {
    const far = press(opened, key('ArrowRight', { ctrlKey: true }))
    expect(far.view.zoom).toEqual(opened.view.zoom)
    const { zoom } = press(
      opened,
      ...Array<ReturnType<typeof key>>(4).fill(key('+')),
      key('ArrowRight', { ctrlKey: true }),
      key('ArrowUp', { ctrlKey: true }),
    ).view
    expect(zoom.x).toBeCloseTo(0.2 / zoom.scale, 9)
    expect(zoom.y).toBeCloseTo(0.2 / zoom.scale, 9)
  })

  it('Home puts the panel straight and the view whole', () => {
    const state = press(opened, key('ArrowUp'), key('['), key('+'), key('Home'))
    expect(state.job?.view.pose).toEqual({ tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 })
    expect(state.view.zoom.scale).toBe(1)
  })

  it('Space plays and holds, and does nothing where motion is to be still', () => {
    const playing = press(opened, key(' '))
    expect(playing.view.run).toMatchObject({ playing: true, timeS: 0 })
    expect(press(playing, key(' ')).view.run.playing).toBe(false)
    const still = inView(opened, { stillMotion: true })
    expect(press(still, key(' '))).toBe(still)
  })

  it('whoever takes the panel in hand during a run goes on from there', () => {
    const running = inView(opened, { run: { ...opened.view.run, timeS: 4, playing: true } })
    const held = press(running, key('ArrowRight'))
    expect(held.view.run).toMatchObject({ timeS: null, playing: false })
    // The first path of a fresh job has a key at 4 s, tilted -7° forward and 10° to the side; an arrow adds 2°.
    expect(held.job?.view.pose).toMatchObject({ tiltForwardDeg: -7, tiltSideDeg: 12 })
  })

  it('exposure goes by quarter stops and stays in range', () => {
    const bright = press(opened, ...Array.from({ length: 40 }, () => key('.')))
    expect(bright.job?.view.exposureStops).toBe(6)
  })

  it('letters with Ctrl mean the same in a field; plain keys there are typing', () => {
    expect(everywhereAction(key('s', { ctrlKey: true }))).toEqual({ do: 'save' })
    expect(everywhereAction(key('S', { metaKey: true, shiftKey: true }))).toEqual({ do: 'saveAs' })
    expect(everywhereAction(key('b'))).toBeNull()
    expect(tableAction(key('b', { ctrlKey: true }))).toBeNull()
  })

  it('Escape closes the sheet first, then lets go of the spot', () => {
    const both = inView(opened, { sheet: 'help', spot: { xMm: 1, yMm: 1, pinned: true } })
    const once = press(both, key('Escape'))
    expect(once.view).toMatchObject({ sheet: null, spot: { xMm: 1 } })
    expect(press(once, key('Escape')).view.spot).toBeNull()
  })
})
