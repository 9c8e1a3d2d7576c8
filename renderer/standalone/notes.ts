import { besideJob } from '../../core/proof/names.ts'
import {
  type Note,
  noteLimits,
  noteState,
  notesFormat,
  notesText,
  notesVersion,
} from '../../core/proof/notes.ts'
import type { ProofVersion } from '../../core/proof/version.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { button, el } from './dom.ts'
import { dayAndTime } from './facts.ts'

/** A place of the art, mm from its lower left corner, y up. */
export interface SpotMm {
  readonly xMm: number
  readonly yMm: number
}

interface Table {
  /** What is on the screen. */
  readonly scene: () => Scene
  /** Where a place of the art is in the picture's box, CSS pixels; null where no leaf shows it. */
  readonly pixelOf: (place: SpotMm) => readonly [x: number, y: number] | null
  /** Holds lamp and carton as a note had them. */
  readonly show: (note: Note) => void
}

/** Notes that came with the proof and those that its reader writes: pins over the picture, and a list. */
export class Notes {
  readonly pins = el('div', { class: 'pins' })
  readonly box: HTMLElement
  readonly #of: ProofVersion
  readonly #came: readonly Note[]
  readonly #table: Table
  readonly #list = el('ol', { class: 'rows' })
  readonly #add = button('Add a note', () => this.#setAdding(!this.#adding), { 'aria-pressed': 'false' })
  readonly #save = button('Save notes', () => this.#download(), { class: 'solid' })
  readonly #hint = el('p', { class: 'quiet', role: 'status' })
  readonly #form = el('form', { class: 'note-form', hidden: true })
  readonly #text = el('textarea', { rows: 3, required: true, maxlength: noteLimits.text })
  readonly #author = el('input', {
    type: 'text',
    required: true,
    maxlength: noteLimits.author,
    autocomplete: 'name',
  })
  #mine: readonly Note[] = []
  #saved = true
  #adding = false
  #begun: Pick<Note, 'place' | 'lamp' | 'view'> | null = null

  constructor(of: ProofVersion, came: readonly Note[], table: Table) {
    this.#of = of
    this.#came = came
    this.#table = table
    this.#form.append(
      el('label', { class: 'field' }, el('span', {}, 'What is to be said'), this.#text),
      el('label', { class: 'field' }, el('span', {}, 'Your name'), this.#author),
      el(
        'div',
        { class: 'row' },
        el('button', { type: 'submit', class: 'solid' }, 'Keep the note'),
        button('Discard', () => this.#endForm()),
      ),
    )
    this.#form.addEventListener('submit', event => {
      event.preventDefault()
      this.#keep()
    })
    addEventListener('beforeunload', event => {
      if (!this.#saved) event.preventDefault()
    })
    this.box = el(
      'section',
      { class: 'notes', 'aria-label': 'Notes' },
      el('h2', {}, 'Notes'),
      el('div', { class: 'row' }, this.#add, this.#save),
      this.#hint,
      this.#form,
      this.#list,
    )
    this.#draw()
  }

  /** Whether the next press on the picture is the place of a note. */
  get adding(): boolean {
    return this.#adding
  }

  /** Begins a note at a place; null: beside the carton. */
  placed(place: SpotMm | null): void {
    if (place === null) {
      this.#hint.textContent = 'That is beside the carton. Tap a place on it.'
      return
    }
    const { light, view } = this.#table.scene()
    const { sideDeg, riseDeg } = view.eyeAt ?? { sideDeg: 0, riseDeg: 0 }
    const { xMm, yMm } = place
    this.#begun = {
      place: { xMm: rounded(xMm), yMm: rounded(yMm) },
      lamp: light.lamps[0].pose,
      view: { pose: view.pose, eye: { distanceMm: view.eyeDistanceMm, sideDeg, riseDeg } },
    }
    this.#setAdding(false)
    this.#form.hidden = false
    this.move()
    this.#text.focus()
    this.#form.scrollIntoView({ block: 'nearest' })
  }

  /** Puts the pins where their places now are. */
  move(): void {
    const pins = [...this.pins.children] as HTMLElement[]
    const places = [...this.#all().map(({ place }) => place), ...(this.#begun ? [this.#begun.place] : [])]
    for (const [i, place] of places.entries()) {
      const pin = pins[i] ?? this.pins.appendChild(el('span', { class: 'pin begun' }, '+'))
      const at = this.#table.pixelOf(place)
      pin.hidden = at === null
      if (at === null) continue
      pin.style.left = `${at[0]}px`
      pin.style.top = `${at[1]}px`
    }
    for (const extra of pins.slice(places.length)) extra.remove()
  }

  #all(): readonly Note[] {
    return [...this.#came, ...this.#mine]
  }

  #setAdding(adding: boolean): void {
    this.#adding = adding
    this.#add.setAttribute('aria-pressed', String(adding))
    this.pins.classList.toggle('adding', adding)
    this.#hint.textContent = adding
      ? 'Tap the place on the carton. With keys: press Enter on the picture to take its middle.'
      : ''
    if (adding) this.#endForm()
  }

  #endForm(): void {
    this.#begun = null
    this.#form.hidden = true
    this.#text.value = ''
    this.move()
  }

  #keep(): void {
    const text = this.#text.value.trim()
    const author = this.#author.value.trim()
    if (this.#begun === null) return
    if (text === '' || author === '') {
      this.#hint.textContent = 'A note needs some words and your name.'
      return
    }
    const note: Note = {
      id: madeUpId(),
      of: this.#of.id,
      author,
      at: new Date().toISOString(),
      text,
      ...this.#begun,
      answers: [],
    }
    this.#mine = [...this.#mine, note]
    this.#saved = false
    this.#endForm()
    this.#draw()
    this.#hint.textContent = 'Kept. Press “Save notes” when you are done, and send the file back.'
  }

  #draw(): void {
    const notes = this.#all()
    this.#save.hidden = this.#mine.length === 0
    this.#list.replaceChildren(...notes.map((note, i) => this.#row(note, i + 1)))
    this.pins.replaceChildren(
      ...notes.map((note, i) =>
        button(String(i + 1), () => this.#choose(note), {
          class: `pin${noteState(note) === 'settled' ? ' settled' : ''}`,
          'aria-label': `Note ${i + 1} by ${note.author}`,
        }),
      ),
    )
    this.move()
  }

  #row(note: Note, number: number): HTMLElement {
    const { author, at, text, answers } = note
    const settled = noteState(note) === 'settled'
    const own = this.#mine.includes(note)
    return el(
      'li',
      { id: `note-${note.id}`, tabindex: -1 },
      el('strong', {}, `${number} · ${author}`),
      el('span', { class: 'quiet' }, ` ${dayAndTime(at)}${settled ? ' · settled' : ''}`),
      el('p', { class: 'said' }, text),
      ...answers.map(answer =>
        el(
          'p',
          { class: 'answer' },
          el('strong', {}, answer.author),
          el('span', { class: 'quiet' }, ` ${dayAndTime(answer.at)}`),
          el('br'),
          answer.text === '' ? (answer.state ?? '') : answer.text,
        ),
      ),
      el(
        'div',
        { class: 'row' },
        button('Show', () => this.#table.show(note), { 'aria-label': `Show note ${number} on the carton` }),
        own ? button('Delete', () => this.#drop(note), { 'aria-label': `Delete note ${number}` }) : null,
      ),
    )
  }

  #choose(note: Note): void {
    this.#table.show(note)
    const row = document.getElementById(`note-${note.id}`)
    row?.scrollIntoView({ block: 'nearest' })
    row?.focus({ preventScroll: true })
  }

  #drop(note: Note): void {
    this.#mine = this.#mine.filter(one => one !== note)
    this.#saved = this.#mine.length === 0
    this.#draw()
    this.#add.focus()
  }

  #download(): void {
    const { jobName, id } = this.#of
    const text = notesText({
      format: notesFormat,
      version: notesVersion,
      jobName,
      of: id,
      notes: this.#mine,
    })
    const url = URL.createObjectURL(new Blob([text], { type: 'application/json' }))
    const link = el('a', { href: url, download: besideJob(jobName, 'notes') })
    link.click()
    setTimeout(() => URL.revokeObjectURL(url), 60_000)
    this.#saved = true
    this.#hint.textContent = `Saved as ${besideJob(jobName, 'notes')}. Send it back to whoever sent you this proof.`
  }
}

/** To a hundredth of a millimetre: a finger is not finer. */
const rounded = (mm: number): number => Math.round(100 * mm) / 100

/** A page from a file may lack the system's own maker of ids. */
function madeUpId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16))
  return Array.from(bytes, byte => byte.toString(16).padStart(2, '0')).join('')
}
