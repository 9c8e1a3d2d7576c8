import { app, type Session, type WebContents } from 'electron'
import { origin } from './scheme.ts'

/** Turns off what the browser engine fetches by itself. Must run before the app is ready. */
export function quietNetwork(): void {
  const { commandLine } = app
  commandLine.appendSwitch('host-resolver-rules', 'MAP * ~NOTFOUND')
  commandLine.appendSwitch('disable-background-networking')
  commandLine.appendSwitch('disable-component-update')
  commandLine.appendSwitch('disable-domain-reliability')
  commandLine.appendSwitch('no-pings')
}

/** Nothing leaves the session, nothing is granted, nothing is downloaded. */
export function lockSession(session: Session): void {
  session.webRequest.onBeforeRequest(({ url }, answer) => answer({ cancel: !isOwn(url) }))
  session.setPermissionRequestHandler((_contents, _permission, answer) => answer(false))
  session.setPermissionCheckHandler(() => false)
  session.setDevicePermissionHandler(() => false)
  session.on('will-download', event => event.preventDefault())
}

/** The window stays on its page: no other page, no second window, no embedded one. */
export function lockContents(contents: WebContents): void {
  contents.setWindowOpenHandler(() => ({ action: 'deny' }))
  contents.on('will-navigate', event => event.preventDefault())
  contents.on('will-redirect', event => event.preventDefault())
  contents.on('will-attach-webview', event => event.preventDefault())
  contents.setWebRTCIPHandlingPolicy('disable_non_proxied_udp')
}

/** Our page, what it makes in memory, and the engine's own tools; the page's policy narrows them further. */
function isOwn(url: string): boolean {
  return [`${origin}/`, `blob:${origin}/`, 'data:', 'devtools://'].some(start => url.startsWith(start))
}
