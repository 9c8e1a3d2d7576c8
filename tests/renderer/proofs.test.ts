import { unzipSync } from 'fflate'
import { describe, expect, it, vi } from 'vitest'
import type { SignoffState } from '../../core/host/signing.ts'
import { setLamp } from '../../core/job/lamps.ts'
import { conflicts } from '../../core/proof/merge-notes.ts'
import type { Note } from '../../core/proof/notes.ts'
import { roundOf } from '../../core/proof/round.ts'
import { type EntryContent, newRecord, withEntry } from '../../core/proof/signoff.ts'
import { versionOf } from '../../core/proof/version.ts'
import { outcomeWords } from '../../renderer/panels/proofs/StandingBox.tsx'
import { sizeWords, standsWords, takenInWords } from '../../renderer/panels/proofs/words.ts'
import { holdPanel } from '../../renderer/state/actions.ts'
import { sceneOf } from '../../renderer/state/look.ts'
import { leaveNote, noteHere, noteKey, noteSums, showNote, stayAtNote } from '../../renderer/state/notes.ts'
import { openDemo, openRecent } from '../../renderer/state/open.ts'
import { keepNote, loadSignoff, markOf, signedJob, watchSignoff } from '../../renderer/state/proof-files.ts'
import { proofsOf } from '../../renderer/state/proofs.ts'
import { saveOut } from '../../renderer/state/save-out.ts'
import { send, stopSending } from '../../renderer/state/sending.ts'
import { firstState, notePlaced, type State, showsNotes } from '../../renderer/state/state.ts'
import { begin, decide, look, undo, unsaved } from '../../renderer/state/steps.ts'
import { fakeDesk, lately } from '../support/fake-desk.ts'
import type { FakePlan } from '../support/fake-host.ts'
import { plainJob } from '../support/job.ts'

/** Our own rules, no outside source; decisions and roles by their XJDF names. */

const opened: State = begin(firstState, plainJob, plainJob)

const note: Note = {
  id: 'note-of-ana',
  of: null,
  author: 'Ana',
  at: '2026-03-04T09:30:00Z',
  text: 'The comet tail is too dark.',
  place: { xMm: 20, yMm: 31 },
  lamp: { azimuthDeg: 10, elevationDeg: 35, distanceMm: 400, diameterMm: 60 },
  view: {
    pose: { tiltForwardDeg: 12, tiltSideDeg: -3, turnDeg: 0 },
    eye: { sideDeg: 0, riseDeg: 5, distanceMm: 320 },
  },
  answers: [],
}

describe('a note on the carton', () => {
  it('keeps place, lamp, tilt and eye as the table has them', () => {
    const held = holdPanel(opened, { tiltForwardDeg: 8, tiltSideDeg: 0, turnDeg: 0 })
    const made = noteHere(
      held,
      { xMm: 12.3456, yMm: 7 },
      { id: 'a-new-note', author: 'Jo', at: note.at, text: 'Hm' },
    )
    expect(made).toMatchObject({
      place: { xMm: 12.35, yMm: 7 },
      lamp: plainJob.light.lamps[0].pose,
      view: {
        pose: { tiltForwardDeg: 8 },
        eye: { sideDeg: 0, riseDeg: 0, distanceMm: plainJob.view.eyeDistanceMm },
      },
      of: null,
    })
    expect(noteHere(firstState, { xMm: 1, yMm: 1 }, note)).toBeNull()
  })

  it('is shown with its lamp and view; the job stays as it is, and the way back leads to before the first', () => {
    const tilted = look(opened, { pose: { tiltForwardDeg: 3, tiltSideDeg: 0, turnDeg: 0 } })
    const shown = showNote(
      showNote(tilted, 'other', { ...note, lamp: plainJob.light.lamps[0].pose }),
      note.id,
      note,
    )
    const { light, view } = sceneOf(plainJob, shown.view.run)
    expect(light.lamps[0].pose).toEqual(note.lamp)
    expect(view).toMatchObject({ pose: note.view.pose, eyeDistanceMm: 320, eyeAt: { riseDeg: 5 } })
    expect(shown.job).toBe(tilted.job)
    expect(unsaved(shown)).toBe(false)
    expect(showsNotes(shown.view)).toBe(true)
    const back = leaveNote(shown)
    expect(back.view.proofs.note).toBeNull()
    expect(back.view.run.stood).toBeNull()
    expect(back.job).toEqual(tilted.job)
    expect(unsaved(back)).toBe(false)
  })

  it('gives lamp and carton to the hand that takes them; the way back brings the light again', () => {
    const shown = showNote(opened, note.id, note)
    const taken = holdPanel(shown, { tiltForwardDeg: 20, tiltSideDeg: 0, turnDeg: 0 })
    expect(taken.job?.light.lamps[0].pose).toEqual(note.lamp)
    const back = leaveNote(taken)
    expect(back.job?.light).toBe(plainJob.light)
    expect(back.job?.view.pose).toEqual(plainJob.view.pose)
  })

  it('is stayed at as one step that undo takes back', () => {
    const stays = stayAtNote(showNote(opened, note.id, note))
    expect(stays.job?.light.lamps[0].pose).toEqual(note.lamp)
    expect(stays.view.run.stood).toBeNull()
    expect(undo(stays).job?.light).toBe(plainJob.light)
  })

  it('is told apart from another of the same mark, and counted', () => {
    const settled: Note = {
      ...note,
      text: 'Another text under the same mark',
      answers: [{ author: 'Jo', at: note.at, text: '', state: 'settled' }],
    }
    const file = { notes: [note, settled] }
    expect([noteKey(file, 0), noteKey(file, 1)]).toEqual([note.id, `${note.id} 2`])
    expect(noteSums(file)).toEqual({ open: 1, settled: 1 })
    expect(conflicts(file.notes).size).toBe(1)
  })

  it('asks for its words once its place was pressed', () => {
    const placed = notePlaced(opened, { xMm: 4, yMm: 5 })
    expect(placed.view).toMatchObject({
      sheet: 'proofs',
      proofs: { section: 'notes', placing: { xMm: 4, yMm: 5 } },
    })
  })
})

describe('words', () => {
  it('say sizes, places and what a returned file brought', () => {
    expect([840, 12_345, 999_600, 2_440_000, 31_000_000].map(sizeWords)).toEqual([
      '840 bytes',
      '12 kB',
      '1.0 MB',
      '2.4 MB',
      '31 MB',
    ])
    expect(standsWords(note)).toBe(
      'At 20.0, 31.0 mm · lamp 10° round, 35° up · top 12° away, right side 3° nearer',
    )
    expect(takenInWords({ name: 'a.notes.json', added: 0, mark: { kind: 'newest' } }, 0)).toBe(
      'Everything in a.notes.json was known already.',
    )
    const older = { kind: 'older', of: '1a2b3c4d'.repeat(8), madeAt: note.at } as const
    const said = takenInWords({ name: 'a.notes.json', added: 3, mark: older }, 1)
    expect(said).toContain('3 notes and answers came in')
    expect(said).toContain('an older version, 1a2b3c4d:')
    expect(said).toContain('both are kept')
  })

  const record = newRecord(
    versionOf({
      jobName: 'a.job.json',
      madeAt: note.at,
      program: '0.1.0',
      data: '1',
      sources: [],
      job: plainJob,
    }),
    null,
  )
  const people: EntryContent = {
    kind: 'people',
    at: note.at,
    by: 'Jo',
    people: [
      { name: 'Ana', role: 'Obligated' },
      { name: 'Bo', role: 'Approvinator' },
    ],
  }
  const decides = (
    by: string,
    role: 'Obligated' | 'Approvinator',
    decision: 'Approved' | 'Rejected',
  ): EntryContent => ({
    kind: 'decision',
    at: note.at,
    by,
    role,
    decision,
    conditions: [],
    reason: 'because',
    viewing: null,
    display: null,
    notes: null,
  })
  const asked = withEntry(record, people)
  const signed = withEntry(asked, decides('Ana', 'Obligated', 'Approved'))

  it('say what a round has come to', () => {
    expect(outcomeWords(roundOf(record))).toBe('Nobody was asked yet')
    expect(outcomeWords(roundOf(asked))).toBe('Waits for Ana')
    expect(outcomeWords(roundOf(signed))).toBe('OK')
    expect(outcomeWords(roundOf(withEntry(signed, decides('Bo', 'Approvinator', 'Rejected'))))).toBe(
      'New proof needed, by Bo, who has the final say',
    )
  })

  it('mark a record that stands, is superseded or was changed; one that nobody signed has no mark', () => {
    const state = (change: Partial<SignoffState>): SignoffState => ({
      name: 'a.signoff.json',
      record: signed,
      round: roundOf(signed),
      broken: [],
      standing: { kind: 'stands' },
      ...change,
    })
    const cost = { master: false, plates: true }
    expect(markOf(null)).toBeNull()
    expect(markOf(state({ record: asked }))).toBeNull()
    expect(markOf(state({}))).toBe('stands')
    expect(markOf(state({ standing: { kind: 'superseded', changes: [], cost } }))).toBe('superseded')
    expect(markOf(state({ broken: [{ where: 'entry 1', message: 'x' }], standing: null }))).toBe('broken')
  })
})

async function desk(plan: FakePlan = {}, saved = true) {
  const made = fakeDesk(plan)
  made.store.set(state => ({
    ...state,
    session: {
      ...state.session,
      about: { version: '1', shell: 'browser', files: plan.files ?? 'dialog', start: null },
    },
  }))
  if (saved) openRecent(made, lately({ id: 'job', name: 'front.job.json', kind: 'job' }))
  else openDemo(made)
  await vi.waitFor(() => expect(made.store.get().job).not.toBeNull())
  return made
}

describe('something that is sent out', () => {
  it('is made once at a time, says how far it is, and where it went', async () => {
    const d = await desk()
    const makes = vi.fn(async () => ['a.webm (2 MB) went to your downloads.'])
    const first = send(d, 'movie', async ({ tell }) => {
      tell(0.5, 'frame 3 of 6')
      expect(proofsOf(d.store).get().sending.movie.running).toMatchObject({ done: 0.5, what: 'frame 3 of 6' })
      return makes()
    })
    await send(d, 'movie', makes)
    await first
    expect(makes).toHaveBeenCalledTimes(1)
    expect(proofsOf(d.store).get().sending.movie).toMatchObject({
      running: null,
      failed: null,
      made: ['a.webm (2 MB) went to your downloads.'],
    })
  })

  it('says why it failed; one that was given up says nothing', async () => {
    const d = await desk()
    await send(d, 'plates', () => Promise.reject(new Error('the disk is full')))
    expect(proofsOf(d.store).get().sending.plates.failed).toBe('the disk is full')
    const given = send(
      d,
      'plates',
      ({ signal }) =>
        new Promise((_, no) => signal.addEventListener('abort', () => no(new Error('stopped')))),
    )
    stopSending(d.store, 'plates')
    await given
    expect(proofsOf(d.store).get().sending.plates).toMatchObject({ running: null, failed: null, made: [] })
  })

  it('is handed over as it is, several files as one zip, by dialog or as a download', async () => {
    const a = { name: 'a.png', bytes: Uint8Array.of(1, 2, 3) }
    const b = { name: 'b.png', bytes: Uint8Array.of(4) }
    const byDialog = await desk()
    expect(await saveOut(byDialog, [a], 'front')).toEqual(['a.png (3 bytes) lies in the folder Proofs.'])
    expect(await saveOut(byDialog, [], 'front')).toBeNull()
    const byPage = await desk({ files: 'upload' })
    expect((await saveOut(byPage, [a, b], 'front.pictures'))?.[0]).toMatch(
      /^front.pictures.zip \(2 files, \d+ bytes\) went to your downloads\.$/,
    )
    const blob = byPage.downloads[0]?.content as Blob
    const files = unzipSync(new Uint8Array(await blob.arrayBuffer()))
    expect(Object.keys(files)).toEqual(['a.png', 'b.png'])
    expect(files['a.png']).toEqual(a.bytes)
  })
})

describe('what lies beside the job', () => {
  it('is asked of a saved job alone, and a refusal is told', async () => {
    const unsavedDesk = await desk({}, false)
    expect(await keepNote(unsavedDesk, note)).toBe(false)
    const d = await desk({ over: { addNotes: () => Promise.reject(new Error('you may not write there')) } })
    expect(await keepNote(d, note)).toBe(false)
    expect(proofsOf(d.store).get().failed.notes).toContain('you may not write there')
  })

  it('signs the job as it is saved, however it is held now', async () => {
    const d = await desk()
    d.store.set(now => holdPanel(now, { tiltForwardDeg: 30, tiltSideDeg: 0, turnDeg: 0 }))
    expect(signedJob(d.store.get())?.view.pose).toEqual(d.store.get().session.kept?.view.pose)
    d.store.set(now => decide(now, setLamp(0, { lux: 321 })))
    expect(signedJob(d.store.get())?.light.lamps[0].lux).toBe(321)
  })

  it('is held to the job when it is opened; where nothing was signed an edit asks nothing', async () => {
    const asked = vi.fn(async () => null)
    const d = await desk({ over: { signoff: asked } })
    const end = watchSignoff(d)
    await vi.waitFor(() => expect(asked).toHaveBeenCalledTimes(1))
    d.store.set(now => decide(now, setLamp(0, { lux: 321 })))
    await new Promise(done => setTimeout(done, 1000))
    expect(asked).toHaveBeenCalledTimes(1)
    end()
    expect(await loadSignoff(d)).toBe(true)
    expect(d.store.get().session.signed).toBeNull()
  })
})
