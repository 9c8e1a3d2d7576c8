import type { PointerEvent } from 'react'
import { type Look, pixelsOver } from '../stage/place.ts'

/** A note as the table shows it. */
export interface NoteFlag {
  readonly id: string
  /** What the list calls it. */
  readonly number: number
  /** mm from the art's lower left corner, y up. */
  readonly xMm: number
  readonly yMm: number
  readonly settled: boolean
  /** Its first words, for who points at it or listens. */
  readonly says: string
}

interface Props {
  readonly look: Look
  readonly flags: readonly NoteFlag[]
  /** The one that the table stands for. */
  readonly shown: string | null
  /** Where a new note is going to be. */
  readonly fresh: { readonly xMm: number; readonly yMm: number } | null
  readonly onShow: (id: string) => void
}

/** Over the picture: a numbered flag at the place of each note; the leaf that a folded carton hides has none. */
export function NotesOver({ look, flags, shown, fresh, onShow }: Props) {
  const pixel = pixelsOver(look)
  const at = fresh === null ? null : pixel(fresh.xMm, fresh.yMm)
  return (
    <div className="notes-over">
      {flags.map(({ id, number, xMm, yMm, settled, says }) => {
        const place = pixel(xMm, yMm)
        if (place === null || !inside(look, place)) return null
        const kind = `${settled ? ' settled' : ''}${id === shown ? ' shown' : ''}`
        return (
          <button
            key={id}
            type="button"
            className={`note-flag${kind}`}
            style={{ left: place[0], top: place[1] }}
            title={says}
            aria-label={`Note ${number}${settled ? ', settled' : ''}: ${says}`}
            aria-pressed={id === shown}
            onPointerDown={hold}
            onPointerUp={hold}
            onDoubleClick={event => event.stopPropagation()}
            onKeyDown={event => {
              // The table would take these as its own.
              if (event.key === 'Enter' || event.key === ' ') event.stopPropagation()
            }}
            onClick={() => onShow(id)}
          >
            {number}
          </button>
        )
      })}
      {at === null ? null : (
        <span className="note-flag fresh" style={{ left: at[0], top: at[1] }} aria-hidden="true">
          +
        </span>
      )}
    </div>
  )
}

const hold = (event: PointerEvent): void => event.stopPropagation()

const inside = ({ width, height }: Look, [x, y]: readonly [number, number]): boolean =>
  x >= 0 && x <= width && y >= 0 && y <= height
