autocmd BufRead,BufNewFile *.fed setfiletype fed
