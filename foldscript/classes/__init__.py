"""What a class needs: level, time, paper and cuts, tools and cautions of the models it folds."""
