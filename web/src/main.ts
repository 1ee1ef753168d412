import { mount } from 'svelte';
import './look/tokens.css';
import './look/base.css';
import Page from './frame/Page.svelte';
import { keepPage } from './offline/keep_page';

mount(Page, { target: document.getElementById('page')! });
keepPage();
