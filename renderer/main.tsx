import { createRoot } from 'react-dom/client'
import { App } from './app.tsx'
import { chooseHost, onMenuCommand } from './host/choose.ts'
import { pageFiles } from './page-files.ts'
import { openWorkshop } from './scene/workshop.ts'
import { createAssetPreviews } from './state/assets.ts'
import { keepBuilt } from './state/build.ts'
import { keepDrafts, windowId } from './state/draft.ts'
import { keepRead } from './state/keep-read.ts'
import { type Desk, openByDialog, start } from './state/open.ts'
import { createPreviews } from './state/previews.ts'
import { save } from './state/save.ts'
import { firstState, inView, type State } from './state/state.ts'
import { redo, undo } from './state/steps.ts'
import { createStore, type Store } from './state/store.ts'
import { keptTheme } from './state/theme.ts'
import { watchArt } from './state/watch.ts'
import './style/tokens.css'
import './style/dark.css'
import './style/controls.css'
import './style/window.css'
import './style/stack.css'
import './style/board.css'
import './style/carton.css'
import './style/effects.css'
import './style/areas.css'
import './style/light.css'
import './style/table.css'
import './style/leaves.css'
import './style/probe.css'
import './style/sheets.css'
import './style/work.css'

const desk: Desk = {
  store: createStore(firstState),
  host: chooseHost(),
  page: pageFiles,
  windowId: windowId(sessionStorage),
}
const root = document.getElementById('root')
if (root === null) throw new Error('index.html: expected an element with id "root", got none')
desk.store.set(state => inView(state, { theme: keptTheme(localStorage) }))
followMotion(desk.store)
keepBuilt(desk.store, desk.host)
keepDrafts(desk, desk.windowId)
watchArt(desk)
keepRead(desk)
hearMenu(desk)
createRoot(root).render(
  <App
    desk={desk}
    previews={createPreviews(desk.host)}
    assetPreviews={createAssetPreviews(desk.host)}
    workshop={openWorkshop()}
    openWorkshop={openWorkshop}
  />,
)
void start(desk)

/** Nothing plays by itself while the system asks for less motion. */
function followMotion(store: Store<State>): void {
  const wish = matchMedia('(prefers-reduced-motion: reduce)')
  const follow = () =>
    store.set(state =>
      inView(state, {
        stillMotion: wish.matches,
        run: wish.matches ? { ...state.view.run, playing: false } : state.view.run,
      }),
    )
  wish.addEventListener('change', follow)
  follow()
}

function hearMenu(to: Desk): void {
  onMenuCommand(command => {
    switch (command) {
      case 'open':
        return openByDialog(to)
      case 'save':
        return void save(to)
      case 'undo':
        return to.store.set(undo)
      case 'redo':
        return to.store.set(redo)
    }
  })
}
