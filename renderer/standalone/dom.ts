/** Attributes of an element: text, `true` for one without a value, or `false` for none. */
type Attributes = Readonly<Record<string, string | number | boolean>>

type Child = Node | string | null

/** An element. Texts among its children become text and are never read as markup. */
export function el<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[K] {
  const made = document.createElement(tag)
  for (const [name, value] of Object.entries(attributes)) {
    if (value === false) continue
    made.setAttribute(name, value === true ? '' : String(value))
  }
  made.append(...children.filter(child => child !== null))
  return made
}

/** A button that says what it does. */
export function button(says: string, onPress: () => void, attributes: Attributes = {}): HTMLButtonElement {
  const made = el('button', { type: 'button', ...attributes }, says)
  made.addEventListener('click', onPress)
  return made
}

/** A part of the column beside the picture, which opens and closes. */
export function section(title: string, open: boolean, ...children: readonly Child[]): HTMLDetailsElement {
  return el('details', { class: 'part', open }, el('summary', {}, el('h2', {}, title)), ...children)
}

/** Rows of a name and what holds of it. */
export function terms(rows: readonly (readonly [name: string, value: string])[]): HTMLDListElement {
  return el('dl', {}, ...rows.flatMap(([name, value]) => [el('dt', {}, name), el('dd', {}, value)]))
}

/** A slider with its label and, beside it, what its value means. */
export function slider(
  label: string,
  [min, max, step]: readonly [number, number, number],
  words: (value: number) => string,
  onMove: (value: number) => void,
): { readonly box: HTMLElement; readonly show: (value: number) => void } {
  const input = el('input', { type: 'range', min, max, step })
  const says = el('output', { class: 'quiet' })
  const show = (value: number): void => {
    if (Number(input.value) !== value) input.value = String(value)
    const told = words(value)
    says.textContent = told
    input.setAttribute('aria-valuetext', told)
  }
  input.addEventListener('input', () => {
    const value = Number(input.value)
    show(value)
    onMove(value)
  })
  return { box: el('label', { class: 'slide' }, el('span', {}, label), says, input), show }
}
