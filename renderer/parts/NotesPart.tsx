import { useEffect, useRef } from 'react'
import { noteState } from '../../core/proof/notes.ts'
import { NoteBar } from '../panels/proofs/NoteBar.tsx'
import { coveredPx } from '../scene/covered.ts'
import { NotesOver } from '../scene/NotesOver.tsx'
import { zoomOn } from '../scene/zoom-on.ts'
import { type Look, pixelOver } from '../stage/place.ts'
import { zoomTo } from '../state/actions.ts'
import { leaveNote, noteKey, showNote, stayAtNote } from '../state/notes.ts'
import { lookAtProofs, proofsOf } from '../state/proofs.ts'
import { inView, notePlaced, type State } from '../state/state.ts'
import { type Store, useStore } from '../state/store.ts'
import '../style/notes.css'

interface Props {
  readonly store: Store<State>
  readonly state: State
  readonly look: Look
}

/** A note that is out of sight is brought into it with this much around it, mm. */
const aroundMm = 20
/** And so is one nearer than this to an edge, CSS pixels. */
const edgePx = 40

/** Notes over the picture, joined to the state: where each is, the way back from one, and where a new one is to be. */
export function NotesPart({ store, state, look }: Props) {
  const file = useStore(proofsOf(store), all => all.notes)
  const { placing, note } = state.view.proofs
  const flags = (file?.notes ?? []).map((one, i) => ({
    id: file === null ? '' : noteKey(file, i),
    number: i + 1,
    ...one.place,
    settled: noteState(one) === 'settled',
    says: `${one.author}: ${one.text.length > 80 ? `${one.text.slice(0, 79)}…` : one.text}`,
  }))
  const at = flags.findIndex(({ id }) => id === note?.id)
  const { widthMm, heightMm } = look.panel
  const place = file?.notes[at]?.place ?? null
  const table = useRef<HTMLDivElement>(null)
  // biome-ignore lint/correctness/useExhaustiveDependencies: looked at once for each note, then the hand goes on
  useEffect(() => {
    if (place === null) return
    const covered = coveredPx(table.current)
    const pixel = pixelOver(look, place.xMm, place.yMm)
    if (pixel !== null && inside(pixel, look.width - covered, look.height)) return
    const box = {
      leftMm: place.xMm - aroundMm,
      rightMm: place.xMm + aroundMm,
      bottomMm: place.yMm - aroundMm,
      topMm: place.yMm + aroundMm,
    }
    const zoom = zoomOn(look, box, covered, 0.25)
    if (zoom !== null) store.set(now => zoomTo(now, zoom))
  }, [note?.id, note === null])
  return (
    <>
      <div ref={table} hidden />
      <NotesOver
        look={look}
        flags={flags}
        shown={note?.id ?? null}
        fresh={placing === 'asked' ? null : placing}
        onShow={key => {
          const one = file?.notes.find((_, i) => noteKey(file, i) === key)
          if (one !== undefined)
            store.set(now =>
              inView(lookAtProofs(showNote(now, key, one), { section: 'notes' }), { sheet: 'proofs' }),
            )
        }}
      />
      {placing === 'asked' ? (
        <NoteBar
          width={look.width}
          says="Press the place that the note is about. Lamp and tilt are kept with it."
          acts={[
            {
              title: 'In the middle',
              does: () => store.set(now => notePlaced(now, { xMm: widthMm / 2, yMm: heightMm / 2 })),
            },
            {
              title: 'Give up',
              does: () => store.set(now => inView(lookAtProofs(now, { placing: null }), { sheet: 'proofs' })),
            },
          ]}
        />
      ) : note === null ? null : (
        <NoteBar
          width={look.width}
          says={at < 0 ? 'A note' : `Note ${at + 1}`}
          acts={[
            { title: 'Back to where I was', does: () => store.set(leaveNote) },
            { title: 'Stay here', does: () => store.set(stayAtNote) },
          ]}
        />
      )}
    </>
  )
}

const inside = ([x, y]: readonly [number, number], width: number, height: number): boolean =>
  x >= edgePx && x <= width - edgePx && y >= edgePx && y <= height - edgePx
