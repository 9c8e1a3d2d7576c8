import type { ProofManifest } from '../../core/proof/manifest.ts'
import { wholeView } from '../../core/reference/camera.ts'
import { straightOn } from '../stage/angles.ts'
import { zoomedAt } from '../stage/pinch.ts'
import { button, el, slider } from './dom.ts'
import { zoomStep } from './hand.ts'
import { holdByPhone, refusals } from './phone-tilt.ts'
import { outOfRun, type Seen } from './seen.ts'
import type { Store } from './store.ts'

/** Puts the carton straight and shows it whole. */
export const putStraight = (seen: Seen): Seen => ({ ...seen, pose: straightOn, zoom: wholeView })

/** Which of the proof's lights burns. */
export function lightGroup(seen: Store<Seen>, { lights }: Pick<ProofManifest, 'lights'>): HTMLElement {
  const pick = el('select', {}, ...lights.map(({ name }, at) => el('option', { value: at }, name)))
  const says = el('p', { class: 'quiet' })
  pick.addEventListener('change', () => seen.put({ light: Number(pick.value), lamp: null }))
  seen.follow(({ light }) => {
    pick.value = String(light)
    says.textContent = lights[light]?.says ?? ''
  })
  return el('div', { class: 'group' }, el('label', { class: 'field' }, el('span', {}, 'Light'), pick), says)
}

/** How far the carton is closed. */
export function foldGroup(seen: Store<Seen>): HTMLElement {
  const fold = slider(
    'Fold',
    [0, 1, 0.005],
    value => (value === 0 ? 'flat' : value === 1 ? 'closed' : `${Math.round(100 * value)} %`),
    value => seen.put({ fold: value }),
  )
  seen.follow(now => fold.show(now.fold ?? 0))
  return el('div', { class: 'group' }, fold.box)
}

/** Straight, closer, farther off; and on a phone its own tilt. @param box of the picture */
export function viewButtons(
  seen: Store<Seen>,
  proof: Pick<ProofManifest, 'paths'>,
  box: HTMLElement,
): HTMLElement {
  const closer = (factor: number): void => {
    const { clientWidth: width, clientHeight: height } = box
    seen.put({ zoom: zoomedAt(seen.get().zoom, factor, [width / 2, height / 2], { width, height }) })
  }
  const says = el('p', { class: 'quiet', role: 'status' })
  return el(
    'div',
    { class: 'group' },
    el(
      'div',
      { class: 'row' },
      button('Straight', () => seen.set(putStraight(outOfRun(seen.get(), proof)))),
      button('+', () => closer(zoomStep), { 'aria-label': 'Closer' }),
      button('−', () => closer(1 / zoomStep), { 'aria-label': 'Farther off' }),
      phoneButton(seen, proof, says),
    ),
    says,
  )
}

/** Asks for the phone's own tilt, only when it is pressed; not there where nobody holds the screen in the hand. */
function phoneButton(seen: Store<Seen>, proof: Pick<ProofManifest, 'paths'>, says: HTMLElement) {
  if (!matchMedia('(any-pointer: coarse)').matches) return null
  let stop: (() => void) | null = null
  const made = button('Tilt with the phone', async () => {
    if (stop !== null) {
      stop()
      stop = null
      made.setAttribute('aria-pressed', 'false')
      says.textContent = ''
      return
    }
    says.textContent = 'Asking for the phone’s tilt …'
    seen.set(outOfRun(seen.get(), proof))
    const got = await holdByPhone(seen.get().pose, pose => seen.put({ pose }))
    if (typeof got === 'function') stop = got
    made.setAttribute('aria-pressed', String(stop !== null))
    says.textContent =
      typeof got === 'function' ? 'The carton follows the phone from how you hold it now.' : refusals[got]
  })
  made.setAttribute('aria-pressed', 'false')
  return made
}
