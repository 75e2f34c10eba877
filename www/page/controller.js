// @ts-check
/**
 * The only place that wires board and widgets: runs what a person asks for,
 * asks the board what has changed, and shows that once a frame.
 */
import { BoardView } from '../board/board-view.js';
import { DrawingPanels } from '../board/drawing-panels.js';
import { FindingView } from '../proof/finding-view.js';
import { Followers } from '../proof/followers.js';
import { PairTable } from '../proof/pair-table.js';
import { SectionPlot } from '../proof/section-plot.js';
import { SettingsForm } from '../proof/settings-form.js';
import { WholeView } from '../proof/whole-view.js';
import { MendView } from '../mend/mend-view.js';
import { LoftView } from '../loft/loft-view.js';
import { byId } from './dom.js';
import { LaterPlaces } from './later-places.js';
import { Links } from './links.js';
import { CHANGE, UNFETCHED } from './messages.js';
import { SheetLine } from './sheet-line.js';
import { Totals } from './totals.js';

/** While a drag goes on, findings may take this part of the time; verdicts come first. */
const FINDING_SHARE = 0.25;

/** Said when the kernel itself has failed: a fault of ours, never of the drawing. */
const BROKEN = 'Loftkin has made a mistake of its own and cannot go on here. Your work is kept up to the last step: reload the page to go on with it.';

export class Controller {
  /**
   * @param {import('./messages.js').Kernel} kernel
   * @param {import('./messages.js').Board} board
   * @param {import('./announcer.js').Announcer} announcer
   * @param {import('./theme.js').Theme} theme
   * @param {import('../beside.js').Means} means
   */
  constructor(kernel, board, announcer, theme, means) {
    this.kernel = kernel;
    this.board = board;
    this.announcer = announcer;
    this.theme = theme;
    this.bits = 0;
    /** When the next finding may be worked out during a drag. */
    this.findingDue = 0;
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.findingLater = undefined;
    /** The pair whose loft is shown. @type {string} */
    this.lofted = '';
    /** @type {import('./messages.js').Family | null} */
    this.family = null;
    /** @type {import('./messages.js').Finding | null} */
    this.finding = null;
    /** Told when there is something to keep. @type {() => void} */
    this.onHistory = () => {};
    this.boardView = new BoardView(byId('board'), this);
    this.drawing = new DrawingPanels(this);
    this.links = new Links(this);
    this.pairTable = new PairTable(byId('pairs'), { frame: byId('table-frame'), tools: byId('table-tools'), reading: byId('table-reading') }, this, kernel.reasonWords());
    this.followers = new Followers(this.pairTable);
    this.wholeView = new WholeView(byId('whole'), this, means);
    this.mendView = new MendView(byId('mend'), this, means);
    this.places = new LaterPlaces(this, means);
    this.writeProof = () => this.later(({ writeProof }) => writeProof(this, means));
    this.findingView = new FindingView(byId('finding'), this);
    this.sectionPlot = new SectionPlot(byId('section'), byId('slider'), this);
    this.settingsForm = new SettingsForm(byId('settings'), this);
    this.loftView = new LoftView({ picture: byId('loft'), tools: byId('loft-tools'), measure: byId('measure') }, this, theme);
    this.totals = new Totals(byId('totals'), announcer);
    this.sheetLine = new SheetLine(byId('sheet-line'), this);
    board.setColours(theme.inks());
    announcer.onList = () => this.openPaper('notices');
    byId('notices-opener').addEventListener('click', announcer.onList);
  }

  /**
   * Runs one act and shows what came of it. A sentence it gives is told; an
   * error is shown as what it says.
   * @param {() => string | void | undefined} what
   */
  act(what) {
    let [worked, told] = [true, /** @type {string | void | undefined} */ ('')];
    try {
      told = what();
    } catch (error) {
      worked = false;
      if (error instanceof WebAssembly.RuntimeError) this.announcer.warn(BROKEN);
      else this.announcer.refuse(error);
    }
    const bits = this.board.takeChanges();
    this.bits |= bits;
    // A look or a hover leaves standing what was refused: it is still to be read.
    if (worked && bits & ~(CHANGE.view | CHANGE.pair)) this.announcer.settle();
    if (told) this.announcer.tell(told);
    if (this.bits && !this.waiting) {
      this.waiting = true;
      requestAnimationFrame(() => this.show());
    }
  }

  /** Shows everything anew. */
  showAll() {
    // Nobody has done anything yet: what was refused at the start stands.
    this.bits = 63;
    this.board.takeChanges();
    this.act(() => {});
  }

  show() {
    this.waiting = false;
    const bits = this.bits;
    this.bits = 0;
    const has = (/** @type {number} */ bit) => (bits & bit) !== 0;
    const { drawing, shape, selection, pair, history } = CHANGE;
    if (has(shape | selection)) {
      const family = /** @type {import('./messages.js').Family} */ (this.board.family());
      this.family = family;
      this.drawing.update(family);
      this.settingsForm.update(family);
      this.pairTable.shape(family);
      const name = byId('family-name');
      if (document.activeElement !== name) name.value = family.name;
      byId('welcome').hidden = 0 < family.profiles.length || 0 < this.board.sketchNodes();
    }
    if (has(drawing | shape | selection)) this.drawing.follow();
    if (has(drawing | shape | pair)) this.showPairs(has(shape | history), has(drawing | shape));
    if (this.family && has(drawing | shape | selection | pair)) this.mendView.update(this.family);
    if (has(selection | history)) this.showHistory();
    if (has(history)) this.onHistory();
    this.boardView.paint();
    this.links.follow();
    this.drawing.paint();
  }

  /**
   * @param {boolean} all whether more than the active profile may have changed
   * @param {boolean} curves whether curves have changed, or only the choice
   */
  showPairs(all, curves) {
    const cells = this.board.cells();
    const news = this.pairTable.update(cells, all ? undefined : curves ? this.board.active() : -1);
    if (curves) this.totals.update(cells, news);
    this.sheetLine.update(this.family?.profiles.length ?? 0, this.totals.text, this.pairTable.tools.faults(cells));
    this.showFinding();
    this.sectionPlot.update(this.finding);
    byId('loft-part').hidden = this.finding === null;
    const chosen = this.board.pair().join();
    if (curves || chosen !== this.lofted) this.loftView.updateSurface();
    else this.loftView.updateSection();
    this.lofted = chosen;
    if (!curves) return;
    this.mendView.drawn();
    this.wholeView.drawn();
    this.places.drawn();
    this.followers.restart();
  }

  /** The finding follows the verdict: at once, or a little later while a drag goes on and it is slow. */
  showFinding() {
    clearTimeout(this.findingLater);
    const start = performance.now();
    const wait = this.board.isDragging() ? this.findingDue - start : 0;
    if (0 < wait) {
      this.findingView.redo();
      this.findingLater = setTimeout(() => {
        this.bits |= CHANGE.pair;
        this.act(() => {});
      }, wait);
      return;
    }
    this.finding = this.board.finding();
    const end = performance.now();
    this.findingDue = end + (end - start) * (1 / FINDING_SHARE - 1);
    this.findingView.update(this.finding);
  }

  /** @param {import('./papers.js').PaperName} name */
  openPaper(name) {
    this.later(({ paper }) => paper(name, this).open());
  }

  /**
   * Acts with what is fetched when it is first asked for.
   * @param {(papers: typeof import('./papers.js')) => void} act
   */
  async later(act) {
    try {
      act(await import('./papers.js'));
    } catch {
      this.announcer.warn(UNFETCHED);
    }
  }

  showHistory() {
    for (const [id, own, word, by] of /** @type {const} */ ([['undo', this.board.undoStep(), 'Undo', 'back'], ['redo', this.board.redoStep(), 'Redo', 'again']])) {
      const target = byId(id);
      const step = this.places.turn(by) ? 'Set the series' : own;
      target.disabled = step === undefined;
      target.title = step === undefined ? '' : `${word}: ${step}`;
      target.setAttribute('aria-label', step === undefined ? word : `${word}: ${step}`);
    }
  }

  /** The theme has changed. */
  repaint() {
    this.board.setColours(this.theme.inks());
    this.loftView.paintTheme();
    this.places.repaint();
    this.boardView.paint();
  }
}
