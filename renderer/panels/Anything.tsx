import { type KeyboardEvent, useEffect, useId, useMemo, useRef, useState } from 'react'
import type { Command } from '../state/commands.ts'
import { find } from '../state/find.ts'
import { Overlay } from './Overlay.tsx'

interface Props {
  readonly commands: readonly Command[]
  readonly onClose: () => void
}

/** Names at once; more are reached by typing. */
const most = 60

/** Everything that can be done, found by typing a few letters of it. */
export function Anything({ commands, onClose }: Props) {
  const [typed, setTyped] = useState('')
  const [at, setAt] = useState(0)
  const id = useId()
  const list = useRef<HTMLDivElement>(null)
  const found = useMemo(() => find(typed, commands).slice(0, most), [typed, commands])
  const chosen = Math.min(at, found.length - 1)
  useEffect(() => {
    list.current?.children[chosen]?.scrollIntoView({ block: 'nearest' })
  }, [chosen])
  const grouped = typed.trim() === ''
  return (
    <Overlay title="Do anything" kind="ask" onClose={onClose}>
      <div className="well anything-well">
        <input
          type="text"
          role="combobox"
          // biome-ignore lint/a11y/noAutofocus: the sheet was asked for in order to type
          autoFocus
          autoComplete="off"
          spellCheck={false}
          placeholder="A few letters: white, booth, undo, side by side"
          aria-label="What do you want to do?"
          aria-expanded={found.length > 0}
          aria-controls={id}
          aria-activedescendant={found.length > 0 ? `${id}-${chosen}` : undefined}
          aria-autocomplete="list"
          value={typed}
          onChange={event => {
            setTyped(event.target.value)
            setAt(0)
          }}
          onKeyDown={keyed}
        />
      </div>
      <div ref={list} id={id} className="anything" role="listbox" aria-label="What can be done">
        {found.map((command, i) => (
          // biome-ignore lint/a11y/useKeyWithClickEvents: the field above has the focus and the keys
          <div
            key={`${command.group} ${command.name}`}
            id={`${id}-${i}`}
            role="option"
            tabIndex={-1}
            aria-selected={i === chosen}
            onClick={() => run(command)}
            onPointerMove={() => setAt(i)}
          >
            <span className="quiet">
              {grouped && found[i - 1]?.group === command.group ? '' : command.group}
            </span>
            <span>{command.name}</span>
            {command.key === undefined ? null : <kbd>{command.key}</kbd>}
          </div>
        ))}
      </div>
      {found.length === 0 ? (
        <p role="status">
          Nothing here is called “{typed}”. Try the thing itself: lamp, white, foil, lens, save.
        </p>
      ) : null}
    </Overlay>
  )

  function run(command: Command): void {
    onClose()
    command.run()
  }

  function keyed(event: KeyboardEvent): void {
    const by = moves[event.key]
    if (by !== undefined && found.length > 0) {
      event.preventDefault()
      setAt((chosen + by + found.length * 20) % found.length)
    } else if (event.key === 'Enter') {
      event.preventDefault()
      const command = found[chosen]
      if (command !== undefined) run(command)
    }
  }
}

const moves: Readonly<Record<string, number | undefined>> = {
  ArrowDown: 1,
  ArrowUp: -1,
  PageDown: 8,
  PageUp: -8,
}
