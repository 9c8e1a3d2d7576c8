import { describe, expect, it } from 'vitest'
import { newJob } from '../../core/job/new.ts'
import { assignRoles } from '../../core/roles/assign.ts'
import type { KeyAction } from '../../renderer/keys.ts'
import { commandsOf, freshName } from '../../renderer/state/commands.ts'
import { find } from '../../renderer/state/find.ts'
import { firstState, inSession } from '../../renderer/state/state.ts'
import { begin, undo } from '../../renderer/state/steps.ts'
import { keepTheme, keptTheme, shownTheme, type Theme } from '../../renderer/state/theme.ts'
import { fakeDesk } from '../support/fake-desk.ts'
import { chartArt } from '../support/fake-host.ts'

/** Our own rules, no outside source. */

function work() {
  const job = newJob(chartArt, 'a1'.repeat(32), 'front.psd', [])
  const assigned = assignRoles(chartArt, { aliases: [], choices: [] })
  const file = { id: 'art', name: chartArt.name, kind: 'art' } as const
  const art = { file, art: chartArt, sha256: job.art?.sha256 ?? '', assigned, findings: [], state: null }
  const desk = fakeDesk({}, inSession(begin(firstState, job, job), { art }))
  const acted: KeyAction['do'][] = []
  const chosen: Theme[] = []
  const commands = () =>
    commandsOf(desk, desk.store.get(), {
      act: action => acted.push(action.do),
      theme: theme => chosen.push(theme),
    })
  const run = (typed: string) => find(typed, commands())[0]?.run()
  return { desk, commands, run, acted, chosen }
}

describe('finding by a few letters', () => {
  it.each([
    ['undo', 'Undo'],
    ['take back', 'Undo'],
    ['booth alone', 'Light as in: Booth alone'],
    ['torch', 'Light as in: Torch of a phone'],
    ['clipping', 'Mark what the screen cannot show'],
    ['comet', 'Card of Comet'],
    ['side', 'Designs side by side'],
    ['variants', 'Designs side by side'],
    ['versions', 'Versions of this job'],
    ['client', 'Send a one-file proof'],
    ['phone client', 'Send a one-file proof'],
    ['plates', 'Make plates'],
    ['movie', 'Make a movie'],
    ['comment', 'Notes on the carton'],
    ['approval', 'Sign-off'],
    ['proof beside', 'Print and film proof beside each other'],
    ['assumd', 'Assumed numbers'],
    ['WÀVINESS', 'Assumed numbers'],
    ['tilt', 'Light run: Hand tilt'],
    ['hand tilt', 'Light run: Hand tilt'],
  ])('%s', (typed, name) => {
    expect(find(typed, work().commands())[0]?.name).toContain(name)
  })

  it('nothing fits a word that is nowhere, and every word must fit', () => {
    const { commands } = work()
    expect(find('xylophone', commands())).toEqual([])
    expect(find('light xylophone', commands())).toEqual([])
    // Only where no entry has the word itself are its letters sought one by one.
    expect(find('undo', commands()).map(({ name }) => name)).toEqual(['Undo'])
    expect(find('und', commands()).length).toBeLessThan(commands().length / 4)
    expect(find('  ', commands())).toHaveLength(commands().length)
  })
})

describe('what can be done', () => {
  it('each has a name of its own in its group', () => {
    const names = work()
      .commands()
      .map(one => `${one.group} ${one.name}`)
    expect(new Set(names).size).toBe(names.length)
  })

  it('does what its key does, opens cards and sheets, and sets the light as a step', () => {
    const { desk, run, acted, chosen } = work()
    run('save the job')
    expect(acted).toEqual(['save'])
    run('dark window')
    expect(chosen).toEqual(['dark'])
    run('card of the board')
    expect(desk.store.get().view.card).toBe('board')
    const { job } = desk.store.get()
    const { history } = desk.store.get().session
    run('proof beside each other')
    expect(desk.store.get().view.compare).toBe('laid')
    run('proof beside each other')
    expect(desk.store.get().view.compare).toBeNull()
    // A look, no decision: there is nothing to undo and nothing to save.
    expect(desk.store.get().job).toBe(job)
    expect(desk.store.get().session.history).toBe(history)
    const before = desk.store.get().job?.light
    run('light as in desk')
    expect(desk.store.get().job?.light).not.toEqual(before)
    desk.store.set(undo)
    expect(desk.store.get().job?.light).toBe(before)
  })

  it('makes another design, which is then among them', () => {
    const { desk, run, commands } = work()
    run('another design')
    expect(desk.store.get().job?.variants.map(one => one.name)).toEqual(['Effect-led'])
    expect(commands().map(one => one.name)).toContain('Design: Effect-led')
    expect(freshName(['Effect-led', 'Print-led', 'More white'])).toBe('Design 4')
  })
})

describe('brightness of the window', () => {
  it('is kept on this machine, and follows the system until somebody chooses', () => {
    const kept = new Map<string, string>()
    const storage = {
      getItem: (key: string) => kept.get(key) ?? null,
      setItem: (key: string, value: string) => kept.set(key, value),
    } as unknown as Storage
    expect(keptTheme(storage)).toBe('system')
    keepTheme(storage, 'dark')
    expect(keptTheme(storage)).toBe('dark')
    expect(shownTheme('system', true)).toBe('dark')
    expect(shownTheme('system', false)).toBe('light')
    expect(shownTheme('light', true)).toBe('light')
  })
})
