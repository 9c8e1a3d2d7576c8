import { laidWords, leafWords, overlayWords } from '../../core/job/overlay-words.ts'
import { asPrinted, isPrint, type Overlay } from '../../core/reference/overlay.ts'
import { button, el, slider } from './dom.ts'
import type { Seen } from './seen.ts'
import type { Store } from './store.ts'

/** Board, white and overprint: lifted apart, shown or hidden, laid down as a print or as a film. */
export function leavesGroup(store: Store<Seen>, folded: boolean): HTMLElement {
  const now = (): Overlay => store.get().overlay ?? asPrinted
  const put = (change: Partial<Overlay>): void => store.put({ overlay: { ...now(), ...change } })
  const lift = slider(
    'Lift the leaves',
    [0, 1, 0.01],
    value => (value === 0 ? 'laid down' : `${Math.round(100 * value)} %`),
    value => put({ lift: value }),
  )
  const ticks = leafWords.map(({ key, title, says }) => {
    const input = el('input', { type: 'checkbox' })
    input.addEventListener('change', () => put({ shown: { ...now().shown, [key]: input.checked } }))
    return { key, input, label: el('label', { class: 'tick', title: says }, input, title) }
  })
  const ways = laidWords.map(({ value, title, says }) => ({
    value,
    made: button(title, () => put({ laid: value }), { title: says }),
  }))
  const opened = el('p', { class: 'quiet' }, 'The carton lies open for its leaves, as sheets are proofed.')
  const back = button('One print again', () =>
    put({ lift: asPrinted.lift, shown: asPrinted.shown, laid: asPrinted.laid }),
  )
  const says = el('p', { class: 'unseen', role: 'status' })
  store.follow(seen => {
    const overlay = seen.overlay ?? asPrinted
    lift.show(overlay.lift)
    for (const { key, input } of ticks) input.checked = overlay.shown[key]
    for (const { value, made } of ways) made.setAttribute('aria-pressed', String(overlay.laid === value))
    const print = isPrint(overlay)
    opened.hidden = !folded || print
    back.hidden = print
    const told = overlayWords(overlay) ?? ''
    if (says.textContent !== told) says.textContent = told
  })
  return el(
    'div',
    { class: 'group', role: 'group', 'aria-label': 'Leaves' },
    lift.box,
    el('div', { class: 'row' }, ...ticks.map(({ label }) => label)),
    el('div', { class: 'row' }, ...ways.map(({ made }) => made), back),
    opened,
    says,
  )
}
