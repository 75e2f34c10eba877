// @ts-check
/**
 * Where the page begins: loads the kernel, puts the work on the board, and
 * connects the buttons of the head.
 */
import start, * as kernel from './loftkin_page.js';
import { means } from './beside.js';
import { KEYS_HELP } from './board/keys.js';
import { Arrivals } from './keep/arrivals.js';
import { FamilyMenu } from './keep/family-menu.js';
import { Keeper } from './keep/keeper.js';
import { linkTo, seriesIn } from './keep/link.js';
import { keepOfflineCopy } from './keep/offline-copy.js';
import { Announcer } from './page/announcer.js';
import { Controller } from './page/controller.js';
import { Desk } from './page/desk.js';
import { button, byId, element } from './page/dom.js';
import { FileDesk } from './page/file-desk.js';
import { watchFigures } from './page/figure.js';
import { leadOnward } from './page/later-places.js';
import { Theme } from './page/theme.js';

const announcer = new Announcer(byId('notices'), byId('announcer'));
const theme = new Theme(byId('theme'), () => controller?.repaint());
/** @type {Controller | undefined} */
let controller;

main().catch((error) => {
  const why = error instanceof Error ? error.message : String(error);
  const refused = typeof WebAssembly === 'undefined' || error instanceof WebAssembly.CompileError || /wasm|webassembly/i.test(why);
  byId('loading').setAttribute('role', 'alert');
  byId('loading').textContent = refused
    ? `Loftkin proves in WebAssembly, which this browser refuses here (${why}). Allow it for this page, or open the same address in another browser. What you have kept here is untouched.`
    : `The page could not start: ${why}. Reloading may help. What you have kept here is untouched.`;
});

async function main() {
  await start();
  const board = new kernel.Board();
  byId('loading').hidden = true;
  byId('main').hidden = false;
  controller = new Controller(kernel, board, announcer, theme, means);
  const keeper = new Keeper();
  const desk = new Desk(controller, keeper);
  desk.begin();
  connect(controller, desk, keeper);
  controller.showAll();
  // After what the person came for.
  const control = controller;
  whenIdle(() => {
    keepOfflineCopy(import.meta.url, (text, order, act) => announcer.offer(text, order, act));
    // The browser's own order to print cannot wait for it.
    control.later(({ Report }) => new Report(byId('report'), control.board, { code: () => desk.code(), making: () => control.places.paper() }));
  });
}

/** @param {() => void} act */
function whenIdle(act) {
  // Safari has no idle callbacks.
  if ('requestIdleCallback' in window) requestIdleCallback(act, { timeout: 5000 });
  else setTimeout(act, 1500);
}

/**
 * @param {Controller} control
 * @param {Desk} desk
 * @param {Keeper} keeper
 */
function connect(control, desk, keeper) {
  const { board } = control;
  const files = new FileDesk(desk, means);
  const act = (/** @type {() => string | void} */ what) => () => control.act(what);
  const undo = act(() => desk.step('back'));
  const redo = act(() => desk.step('again'));
  const openExample = (/** @type {number} */ index) => control.act(() => desk.openOther(() => board.openExample(index), kernel.exampleSeries(index), 'open'));
  byId('undo').addEventListener('click', undo);
  byId('redo').addEventListener('click', redo);
  byId('copy-link').addEventListener('click', () => desk.copyLink());
  byId('family-name').addEventListener('change', act(() => board.rename(undefined, byId('family-name').value)));
  const examples = kernel.exampleNames();
  const menu = new FamilyMenu(byId('family-menu'), byId('family-menu-opener'), examples, {
    beginAnew: act(() => desk.openOther(() => board.openEmpty())),
    openFile: () => files.openFiles(false),
    addFile: () => files.openFiles(true),
    openExample,
    openEarlier: (code) => control.act(() => desk.openOther(() => board.openShareCode(code, 'Open an earlier work'), seriesIn(code))),
    forgetEarlier: (code) => keeper.forget(code),
  }, () => keeper.allEarlier());
  connectSharing(control, desk, files);
  byId('welcome').append(
    element('p', {}, 'Press on the sheet to set the first node of a profile.'),
    button('Open an example instead', () => { if (examples.length) openExample(0); else menu.open(); }),
    button('Follow a hood from curves to files', () => {
      openExample(examples.findIndex((_, index) => kernel.exampleSeries(index)));
      leadOnward(announcer);
    }),
  );
  byId('board').setAttribute('aria-description', KEYS_HELP);
  watchFigures((words) => control.announcer.refuse(words));
  document.addEventListener('keydown', (event) => {
    if (event.key === 'F1' || (event.key === '?' && inDrawing(event.target))) {
      event.preventDefault();
      control.drawing.open('keys');
    }
    if (!(event.ctrlKey || event.metaKey) || event.altKey || isText(event.target)) return;
    const key = event.key.toLowerCase();
    if (key !== 'z' && key !== 'y') return;
    event.preventDefault();
    if (key === 'y' || event.shiftKey) redo();
    else undo();
  });
}

/**
 * @param {Controller} control
 * @param {Desk} desk
 * @param {FileDesk} files
 */
function connectSharing(control, desk, files) {
  byId('share-opener').addEventListener('click', () => control.later(({ ShareFlap }) => {
    const share = new ShareFlap(byId('share'), byId('share-opener'), () => linkTo(desk.code()), {
      copyLink: () => desk.copyLink(),
      saveFile: () => files.saveFile(),
      saveDrawing: () => files.saveDrawing(),
      print: () => window.print(),
    });
    desk.onKept = () => share.update();
    share.flap.show(true);
  }), { once: true });
  new Arrivals(byId('arrival'), {
    isEmpty: () => !control.family?.profiles.length,
    fault: (arrival) => files.fault(arrival),
    take: (arrivals, adding) => files.take(arrivals, adding),
    lay: (picture) => control.drawing.picture.lay(picture, picture.name),
    refuse: (error) => control.announcer.refuse(error),
  });
}

/** @param {EventTarget | null} target */
function isText(target) {
  return target instanceof HTMLInputElement && target.type === 'text';
}

/**
 * A letter or a sign alone acts only where the drawing has the focus (Web Content Accessibility Guidelines 2.2,
 * success criterion 2.1.4).
 * @param {EventTarget | null} target
 */
function inDrawing(target) {
  return target instanceof Element && target.closest('.drawing') !== null && !isText(target);
}
