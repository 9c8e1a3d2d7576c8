/** What the keyboard can ask for. */
export type KeyAction =
  | { readonly do: 'tilt'; readonly forwardDeg: number; readonly sideDeg: number }
  | { readonly do: 'lamp'; readonly azimuthDeg: number; readonly elevationDeg: number }
  | { readonly do: 'turn'; readonly deg: number }
  | { readonly do: 'expose'; readonly stops: number }
  | { readonly do: 'zoom'; readonly factor: number }
  /** The view moves over a panel that is looked at closely, parts of the view's height. */
  | { readonly do: 'move'; readonly right: number; readonly up: number }
  | {
      readonly do:
        | 'open'
        | 'save'
        | 'saveAs'
        | 'undo'
        | 'redo'
        | 'help'
        | 'close'
        | 'bare'
        | 'marks'
        | 'play'
        | 'reset'
        | 'read'
        | 'anything'
        | 'compare'
        | 'lift'
        | 'checks'
        | 'proofs'
    }

interface Pressed {
  readonly key: string
  readonly shiftKey: boolean
  readonly ctrlKey: boolean
  readonly metaKey: boolean
  readonly altKey: boolean
}

/** Parts of the view's height a press. */
const moveStep = 0.1

/** Degrees a press. */
const tiltStep = 2
const lampStep = 3
const turnStep = 5

/** Keys that mean the same wherever the focus is, also in a field. */
export function everywhereAction(event: Pressed): KeyAction | null {
  const command = event.ctrlKey || event.metaKey
  const key = event.key.toLowerCase()
  if (event.key === 'F1') return { do: 'help' }
  if (event.key === 'F2') return { do: 'anything' }
  if (event.key === 'Escape') return { do: 'close' }
  if (!command || event.altKey) return null
  switch (key) {
    case 'o':
      return { do: 'open' }
    case 's':
      return { do: event.shiftKey ? 'saveAs' : 'save' }
    case 'z':
      return { do: event.shiftKey ? 'redo' : 'undo' }
    case 'y':
      return { do: 'redo' }
    default:
      return null
  }
}

/** Keys at the table. */
export function tableAction(event: Pressed): KeyAction | null {
  const arrow = arrows[event.key]
  if ((event.ctrlKey || event.metaKey) && !event.altKey && arrow !== undefined)
    return { do: 'move', right: arrow[0] * moveStep, up: arrow[1] * moveStep }
  if (event.ctrlKey || event.metaKey || event.altKey) return null
  if (arrow !== undefined) {
    const [right, up] = arrow
    return event.shiftKey
      ? { do: 'lamp', azimuthDeg: -right * lampStep, elevationDeg: up * lampStep }
      : { do: 'tilt', forwardDeg: up * tiltStep, sideDeg: right * tiltStep }
  }
  switch (event.key) {
    case '[':
      return { do: 'turn', deg: turnStep }
    case ']':
      return { do: 'turn', deg: -turnStep }
    case ',':
      return { do: 'expose', stops: -0.25 }
    case '.':
      return { do: 'expose', stops: 0.25 }
    case '+':
    case '=':
      return { do: 'zoom', factor: 1.25 }
    case '-':
      return { do: 'zoom', factor: 0.8 }
    case 'Home':
      return { do: 'reset' }
    case ' ':
      return { do: 'play' }
    case 'Enter':
      return { do: 'read' }
    case 'b':
    case 'B':
      return { do: 'bare' }
    case 'o':
    case 'O':
      return { do: 'marks' }
    case 'l':
    case 'L':
      return { do: 'lift' }
    case 'f':
    case 'F':
      return { do: 'checks' }
    case 'p':
    case 'P':
      return { do: 'proofs' }
    case 'c':
    case 'C':
      return { do: 'compare' }
    case '?':
      return { do: 'help' }
    default:
      return null
  }
}

const arrows: Readonly<Record<string, readonly [right: number, up: number] | undefined>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
}
