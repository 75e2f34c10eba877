// @ts-check
/**
 * Everything around the board that is told by the controller when to show what
 * anew, and the ways that keys lead to it.
 */
import { byId } from '../page/dom.js';
import { HandBar } from './hand-bar.js';
import { NodeTable } from './node-table.js';
import { ProfileList } from './profile-list.js';
import { ReferencePicture } from './reference-picture.js';
import { ReshapeForm } from './reshape-form.js';
import { SheetPanel } from './sheet-panel.js';

export class DrawingPanels {
  /** @param {import('../page/controller.js').Controller} controller */
  constructor(controller) {
    this.handBar = new HandBar(byId('hands'), byId('board-help'), controller);
    this.profileList = new ProfileList(byId('profiles'), controller);
    this.nodeTable = new NodeTable(byId('nodes'), byId('profiles'), controller);
    this.reshapeForm = new ReshapeForm(byId('reshape'), controller);
    this.picture = new ReferencePicture(byId('board').parentElement, controller);
    this.sheetPanel = new SheetPanel(byId('sheet'), controller, this.picture);
    this.controller = controller;
    byId('keys-opener').addEventListener('click', () => this.open('keys'));
    byId('steps-opener').addEventListener('click', () => this.open('steps'));
    this.picture.restore();
  }

  /**
   * After a change of shape or selection.
   * @param {import('../page/messages.js').Family} family
   */
  update(family) {
    this.handBar.update(family);
    this.profileList.update(family);
    this.sheetPanel.update();
    byId('reshape-panel').hidden = family.profiles.length === 0;
  }

  /** After any change of curves or selection. */
  follow() {
    this.nodeTable.update();
    this.reshapeForm.update();
  }

  /** With each painting of the board. */
  paint() {
    this.picture.paint();
    this.handBar.updateFigures();
  }

  /**
   * Leads to a form or opens a sheet.
   * @param {'figures' | 'copies' | 'picture' | 'name' | 'steps' | 'keys'} name
   */
  open(name) {
    if (name === 'keys' || name === 'steps') this.controller.openPaper(name);
    else if (name === 'name') this.profileList.name.focus();
    else if (name === 'picture') {
      byId('sheet-panel').open = true;
      this.sheetPanel.choose.focus();
    } else if (!byId('reshape-panel').hidden) {
      byId('reshape-panel').open = true;
      this.reshapeForm.focus(name);
    }
  }
}
